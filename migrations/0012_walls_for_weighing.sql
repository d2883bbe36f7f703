-- The wall and the history for labels of crates and for what a second person wrote down.
DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY['crate_labels', 'second_readings'] LOOP
    PERFORM public.wall_in(format('public.%I', kept)::regclass, 'group_id');
    PERFORM public.keep_history(format('public.%I', kept)::regclass, 'group_id', 'id');
    EXECUTE format('GRANT SELECT, INSERT, UPDATE ON public.%I TO evenground_member', kept);
    EXECUTE format('ALTER TABLE public.%I ADD CONSTRAINT %I FOREIGN KEY (group_id) REFERENCES public.groups (id)', kept, kept || '_group');
  END LOOP;
END $$;
--> statement-breakpoint
-- A planting that carries a label or was read twice stays.
SELECT public.stays_while_used('plantings', 'crate_labels', 'planting_id'), public.stays_while_used('plantings', 'second_readings', 'planting_id');
