-- Bringing back an export is the one work that brings history in instead of writing it. The triggers are told by a mark
-- that names the transaction: it stands in a table that no role of the service can read or write, and is set by one
-- function alone, for a group that is not here yet and for a person who acts in it. A setting would not do: anyone can set one.
CREATE TABLE public.bringings_in (
  "transaction" xid8 PRIMARY KEY,
  of_group uuid NOT NULL UNIQUE
);
--> statement-breakpoint
ALTER TABLE public.bringings_in ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE FUNCTION public.is_brought_in(wanted uuid) RETURNS boolean LANGUAGE sql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS
$$ SELECT EXISTS (SELECT FROM bringings_in b WHERE b."transaction" = pg_current_xact_id_if_assigned() AND b.of_group = wanted) $$;
--> statement-breakpoint
-- Begins for a group that is not here; answers whether another group has its address already.
CREATE FUNCTION public.begin_bringing_in(wanted uuid, wanted_slug text) RETURNS boolean
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF current_person() IS NULL OR current_group() IS DISTINCT FROM wanted THEN
    RAISE EXCEPTION 'only a person brings in, and only the group they act in' USING ERRCODE = 'check_violation', CONSTRAINT = 'brought_in_by_a_person';
  END IF;
  IF EXISTS (SELECT FROM groups g WHERE g.id = wanted) THEN
    RAISE EXCEPTION 'this group is here already' USING ERRCODE = 'unique_violation', CONSTRAINT = 'group_is_here_already';
  END IF;
  INSERT INTO bringings_in VALUES (pg_current_xact_id(), wanted);
  RETURN EXISTS (SELECT FROM groups g WHERE g.slug = wanted_slug);
END $$;
--> statement-breakpoint
CREATE FUNCTION public.bring_in_history(history jsonb) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NOT is_brought_in(current_group()) THEN
    RAISE EXCEPTION 'history is written by what is done' USING ERRCODE = 'check_violation', CONSTRAINT = 'history_is_written';
  END IF;
  INSERT INTO changes (group_id, number, table_name, row_id, person_id, changed_at, reason, before, after)
  SELECT current_group(), r.number, r.table_name, r.row_id, r.person_id, r.changed_at, r.reason, r.before::jsonb, r.after::jsonb
  FROM jsonb_to_recordset(history) AS r(number bigint, table_name text, row_id text, person_id uuid, changed_at timestamptz,
    reason text, before text, after text);
END $$;
--> statement-breakpoint
-- Ends it: the group's counter goes on from where it was, and from here on everything is written down again.
CREATE FUNCTION public.end_bringing_in(counted bigint) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NOT is_brought_in(current_group()) THEN
    RAISE EXCEPTION 'nothing is being brought in' USING ERRCODE = 'check_violation', CONSTRAINT = 'history_is_written';
  END IF;
  IF counted < coalesce((SELECT max(c.number) FROM changes c WHERE c.group_id = current_group()), 0) THEN
    RAISE EXCEPTION 'the counter is behind its history' USING ERRCODE = 'check_violation', CONSTRAINT = 'counter_is_behind';
  END IF;
  INSERT INTO group_counters (group_id, changes) VALUES (current_group(), counted);
  DELETE FROM bringings_in WHERE "transaction" = pg_current_xact_id();
END $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.is_brought_in(uuid), public.begin_bringing_in(uuid, text), public.bring_in_history(jsonb), public.end_bringing_in(bigint) FROM PUBLIC;
--> statement-breakpoint
GRANT EXECUTE ON FUNCTION public.begin_bringing_in(uuid, text), public.bring_in_history(jsonb), public.end_bringing_in(bigint) TO evenground_member;
--> statement-breakpoint
-- As before, but what is brought in has its history with it: nothing is written beside it.
CREATE OR REPLACE FUNCTION public.write_history() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF is_brought_in(current_group()) THEN
    RETURN NULL;
  END IF;
  IF TG_OP = 'INSERT' THEN
    WITH touched AS (
      SELECT (coalesce(to_jsonb(n), NULL::jsonb) ->> TG_ARGV[0])::uuid AS group_id, coalesce(to_jsonb(n), NULL::jsonb) ->> TG_ARGV[1] AS row_id,
             NULL::jsonb AS before, to_jsonb(n) AS after
      FROM new_rows n
    ), moved AS (
      INSERT INTO group_counters AS c (group_id, changes) SELECT group_id, count(*) FROM touched GROUP BY group_id
      ON CONFLICT (group_id) DO UPDATE SET changes = c.changes + excluded.changes
      RETURNING c.group_id, c.changes AS latest
    )
    INSERT INTO changes (group_id, number, table_name, row_id, person_id, reason, before, after)
    SELECT t.group_id, m.latest - row_number() OVER (PARTITION BY t.group_id ORDER BY t.row_id DESC) + 1,
           TG_TABLE_NAME, t.row_id, current_person(), nullif(current_setting('evenground.reason', true), ''), t.before, t.after
    FROM touched t JOIN moved m USING (group_id);
  ELSIF TG_OP = 'DELETE' THEN
    WITH touched AS (
      SELECT (coalesce(NULL::jsonb, to_jsonb(o)) ->> TG_ARGV[0])::uuid AS group_id, coalesce(NULL::jsonb, to_jsonb(o)) ->> TG_ARGV[1] AS row_id,
             to_jsonb(o) AS before, NULL::jsonb AS after
      FROM old_rows o
    ), moved AS (
      INSERT INTO group_counters AS c (group_id, changes) SELECT group_id, count(*) FROM touched GROUP BY group_id
      ON CONFLICT (group_id) DO UPDATE SET changes = c.changes + excluded.changes
      RETURNING c.group_id, c.changes AS latest
    )
    INSERT INTO changes (group_id, number, table_name, row_id, person_id, reason, before, after)
    SELECT t.group_id, m.latest - row_number() OVER (PARTITION BY t.group_id ORDER BY t.row_id DESC) + 1,
           TG_TABLE_NAME, t.row_id, current_person(), nullif(current_setting('evenground.reason', true), ''), t.before, t.after
    FROM touched t JOIN moved m USING (group_id);
  ELSE
    WITH touched AS (
      SELECT (coalesce(n.doc, o.doc) ->> TG_ARGV[0])::uuid AS group_id, coalesce(n.doc, o.doc) ->> TG_ARGV[1] AS row_id,
             o.doc AS before, n.doc AS after
      FROM (SELECT to_jsonb(o) AS doc FROM old_rows o) o JOIN (SELECT to_jsonb(n) AS doc FROM new_rows n) n
        ON o.doc ->> TG_ARGV[0] = n.doc ->> TG_ARGV[0] AND o.doc ->> TG_ARGV[1] = n.doc ->> TG_ARGV[1]
      WHERE o.doc IS DISTINCT FROM n.doc
    ), moved AS (
      INSERT INTO group_counters AS c (group_id, changes) SELECT group_id, count(*) FROM touched GROUP BY group_id
      ON CONFLICT (group_id) DO UPDATE SET changes = c.changes + excluded.changes
      RETURNING c.group_id, c.changes AS latest
    )
    INSERT INTO changes (group_id, number, table_name, row_id, person_id, reason, before, after)
    SELECT t.group_id, m.latest - row_number() OVER (PARTITION BY t.group_id ORDER BY t.row_id DESC) + 1,
           TG_TABLE_NAME, t.row_id, current_person(), nullif(current_setting('evenground.reason', true), ''), t.before, t.after
    FROM touched t JOIN moved m USING (group_id);
  END IF;
  RETURN NULL;
END $$;
