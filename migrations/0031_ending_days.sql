-- The different days (UTC) on which upkeep found a group ending: a clock that jumps ahead makes one of them, a rest none.
ALTER TABLE "group_endings" ADD COLUMN "days_seen" date[] DEFAULT '{}' NOT NULL;
--> statement-breakpoint
-- Days ahead are of a clock that went wrong and count no more. Nobody wrote this, so it makes no history: an export given as
-- proof would be older by it each morning.
CREATE FUNCTION public.see_group_ending(wanted uuid) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  today date := (now() AT TIME ZONE 'UTC')::date;
BEGIN
  PERFORM set_config('evenground.group', wanted::text, true);
  INSERT INTO bringings_in VALUES (pg_current_xact_id(), wanted);
  UPDATE group_endings e SET days_seen = ARRAY(SELECT d FROM unnest(e.days_seen) d WHERE d < today ORDER BY d) || today
  WHERE e.group_id = wanted AND e.called_back_at IS NULL;
  DELETE FROM bringings_in WHERE of_group = wanted;
END $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.see_group_ending(uuid) FROM PUBLIC;
--> statement-breakpoint
-- As before, and only where it was seen on seven days.
CREATE OR REPLACE FUNCTION public.end_group(wanted uuid) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  left_over text[];
  stood integer;
  one text;
BEGIN
  IF NOT EXISTS (SELECT FROM group_endings e WHERE e.group_id = wanted AND e.called_back_at IS NULL AND e.ends_at <= now()
    AND cardinality(e.days_seen) >= 7) THEN
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
