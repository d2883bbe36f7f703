-- The wall and the history of endings; only keepers ask and call back. What ends a group deletes its rows of every table, in the
-- order that the tables' references allow, and is called by the service's upkeep alone: neither role of the service may.
SELECT public.wall_in('public.group_endings', 'group_id'), public.keep_history('public.group_endings', 'group_id', 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.group_endings TO evenground_member;
--> statement-breakpoint
CREATE FUNCTION public.guard_endings() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF current_setting('role') = 'evenground_member' AND NOT is_keeper(NEW.group_id) THEN
    RAISE EXCEPTION 'only keepers end a group' USING ERRCODE = 'check_violation', CONSTRAINT = 'groups_are_ended_by_keepers';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER groups_are_ended_by_keepers BEFORE INSERT OR UPDATE ON public.group_endings
  FOR EACH ROW EXECUTE FUNCTION public.guard_endings();
--> statement-breakpoint
-- What is locked goes with its group, and so does its last keeper. The conditions are nested: the inner one may be asked by the
-- owner alone.
CREATE OR REPLACE FUNCTION public.refuse_locked() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    IF public.is_brought_in(OLD.group_id) THEN
      RETURN OLD;
    END IF;
  END IF;
  RAISE EXCEPTION 'what is locked never changes' USING ERRCODE = 'check_violation', CONSTRAINT = TG_NAME;
END $$;
--> statement-breakpoint
CREATE OR REPLACE FUNCTION public.keep_a_keeper() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF TG_OP = 'DELETE' AND is_brought_in(OLD.group_id) THEN
    RETURN NULL;
  END IF;
  IF NOT EXISTS (SELECT FROM members m WHERE m.group_id = OLD.group_id AND m.role = 'keeper') THEN
    RAISE EXCEPTION 'a group keeps a keeper' USING ERRCODE = 'check_violation', CONSTRAINT = 'group_keeps_a_keeper';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
-- The mark of bringing in silences the history, which goes with the rest; nobody can set it for a group that is here.
CREATE FUNCTION public.end_group(wanted uuid) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  left_over text[];
  stood integer;
  one text;
BEGIN
  IF NOT EXISTS (SELECT FROM group_endings e WHERE e.group_id = wanted AND e.called_back_at IS NULL AND e.ends_at <= now()) THEN
    RAISE EXCEPTION 'this group does not end' USING ERRCODE = 'check_violation', CONSTRAINT = 'group_does_not_end';
  END IF;
  PERFORM set_config('evenground.group', wanted::text, true);
  INSERT INTO bringings_in VALUES (pg_current_xact_id(), wanted);
  SELECT array_agg(c.relname::text ORDER BY c.relname) INTO left_over
  FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attname = 'group_id' AND NOT a.attisdropped
  WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p') AND NOT c.relispartition;
  WHILE cardinality(left_over) > 0 LOOP
    stood := cardinality(left_over);
    FOREACH one IN ARRAY left_over LOOP
      BEGIN
        EXECUTE format('DELETE FROM %I WHERE group_id = $1', one) USING wanted;
        left_over := array_remove(left_over, one);
      EXCEPTION WHEN foreign_key_violation THEN NULL;
      END;
    END LOOP;
    IF cardinality(left_over) = stood THEN
      RAISE EXCEPTION 'these tables hold each other: %', array_to_string(left_over, ', ');
    END IF;
  END LOOP;
  DELETE FROM groups WHERE id = wanted;
  DELETE FROM bringings_in WHERE of_group = wanted;
END $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.end_group(uuid) FROM PUBLIC;
