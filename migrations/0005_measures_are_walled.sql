-- The group's own measures stand behind the same wall as its other rows, and what a spreading, a heap or an hour rests on
-- is not marked as removed before it.
SELECT public.wall_in('public.measures'::regclass, 'group_id'), public.keep_history('public.measures'::regclass, 'group_id', 'id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.measures TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.measures ADD CONSTRAINT measures_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
--> statement-breakpoint
SELECT public.stays_while_used('deliveries', 'labour_entries', 'delivery_id'), public.stays_while_used('inputs', 'stocks', 'input_id'),
       public.stays_while_used('plantings', 'applications', 'planting_id'), public.stays_while_used('beds', 'applications', 'bed_id'),
       public.stays_while_used('gardens', 'applications', 'garden_id');
