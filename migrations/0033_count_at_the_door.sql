-- Who comes in and what has changed in their group since a page was made is one question: the door reads how many changes a
-- group's history holds, and nothing of what they are.
CREATE POLICY door ON public.group_counters TO evenground_door USING (true);
--> statement-breakpoint
GRANT SELECT ON public.group_counters TO evenground_door;
