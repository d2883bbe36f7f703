-- What drizzle cannot say: two roles that row-level security binds, the wall around each group, the history that
-- nothing escapes, and the rules that span rows. The owner of the tables (a superuser on the embedded engine) bypasses
-- row security, so each transaction takes one of the two roles (src/db/transaction.ts).
CREATE EXTENSION IF NOT EXISTS btree_gist;
--> statement-breakpoint
DO $$
DECLARE wanted text;
BEGIN
  FOREACH wanted IN ARRAY ARRAY['evenground_door', 'evenground_member'] LOOP
    BEGIN
      IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = wanted) THEN
        EXECUTE format('CREATE ROLE %I NOLOGIN', wanted);
      END IF;
    EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL;
    END;
    IF NOT pg_has_role(current_user, wanted, 'MEMBER') THEN
      EXECUTE format('GRANT %I TO CURRENT_USER', wanted);
    END IF;
  END LOOP;
END $$;
--> statement-breakpoint
GRANT USAGE ON SCHEMA public TO evenground_door, evenground_member;
--> statement-breakpoint
CREATE FUNCTION public.current_group() RETURNS uuid LANGUAGE sql STABLE AS
$$ SELECT nullif(current_setting('evenground.group', true), '')::uuid $$;
--> statement-breakpoint
CREATE FUNCTION public.current_person() RETURNS uuid LANGUAGE sql STABLE AS
$$ SELECT nullif(current_setting('evenground.person', true), '')::uuid $$;
--> statement-breakpoint
-- One row of history for each row that a statement changed, numbered from the group's counter. Arguments: the column that
-- holds the group, the column that names the row within it.
CREATE FUNCTION public.write_history() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
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
--> statement-breakpoint
CREATE FUNCTION public.keep_history(kept regclass, group_column text, row_column text) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('CREATE TRIGGER history_of_inserts AFTER INSERT ON %s REFERENCING NEW TABLE AS new_rows
    FOR EACH STATEMENT EXECUTE FUNCTION public.write_history(%L, %L)', kept, group_column, row_column);
  EXECUTE format('CREATE TRIGGER history_of_updates AFTER UPDATE ON %s REFERENCING OLD TABLE AS old_rows NEW TABLE AS new_rows
    FOR EACH STATEMENT EXECUTE FUNCTION public.write_history(%L, %L)', kept, group_column, row_column);
  EXECUTE format('CREATE TRIGGER history_of_deletes AFTER DELETE ON %s REFERENCING OLD TABLE AS old_rows
    FOR EACH STATEMENT EXECUTE FUNCTION public.write_history(%L, %L)', kept, group_column, row_column);
END $$;
--> statement-breakpoint
-- The wall: a member sees and writes rows of the current group only, and can delete none. A later migration that adds a
-- table of a group calls wall_in and keep_history for it; a test finds a table without them.
CREATE FUNCTION public.wall_in(walled regclass, group_column text) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format('ALTER TABLE %s ENABLE ROW LEVEL SECURITY', walled);
  EXECUTE format('CREATE POLICY group_wall ON %s TO evenground_member USING (%I = (SELECT public.current_group()))', walled, group_column);
END $$;
--> statement-breakpoint
DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY[
    'sites', 'blocks', 'methods', 'gardens', 'beds', 'bed_closures', 'seasons', 'method_assignments', 'season_questions',
    'crops', 'cultivars', 'matched_sets', 'plantings', 'containers', 'harvests', 'harvest_shares', 'losses',
    'labour_entries', 'labour_shares', 'week_closings', 'inputs', 'deliveries', 'stocks', 'applications', 'soil_tests',
    'field_notes', 'counts', 'weed_patches', 'weather_days', 'decisions', 'reports', 'share_links'
  ] LOOP
    PERFORM public.wall_in(format('public.%I', kept)::regclass, 'group_id');
    PERFORM public.keep_history(format('public.%I', kept)::regclass, 'group_id', 'id');
    EXECUTE format('GRANT SELECT, INSERT, UPDATE ON public.%I TO evenground_member', kept);
    EXECUTE format('ALTER TABLE public.%I ADD CONSTRAINT %I FOREIGN KEY (group_id) REFERENCES public.groups (id)', kept, kept || '_group');
  END LOOP;
END $$;
--> statement-breakpoint
SELECT public.wall_in('public.groups', 'id'), public.keep_history('public.groups', 'id', 'id'),
       public.wall_in('public.members', 'group_id'), public.keep_history('public.members', 'group_id', 'person_id'),
       public.wall_in('public.invitations', 'group_id'), public.wall_in('public.changes', 'group_id'),
       public.wall_in('public.group_counters', 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.groups, public.members, public.invitations TO evenground_member;
--> statement-breakpoint
GRANT SELECT ON public.changes, public.group_counters TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.people ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY people_of_the_group ON public.people TO evenground_member
  USING (EXISTS (SELECT FROM public.members m WHERE m.person_id = people.id AND m.group_id = (SELECT public.current_group())));
--> statement-breakpoint
GRANT SELECT (id, email, name, created_at) ON public.people TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.sessions ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
ALTER TABLE public.rate_limits ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
-- The door knows who comes in and to which groups; it reads nothing of what a group has written down.
DO $$
DECLARE opened text;
BEGIN
  FOREACH opened IN ARRAY ARRAY['people', 'sessions', 'rate_limits', 'groups', 'members', 'invitations', 'share_links'] LOOP
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
  END LOOP;
END $$;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.people, public.sessions, public.rate_limits TO evenground_door;
--> statement-breakpoint
GRANT SELECT ON public.groups, public.share_links TO evenground_door;
--> statement-breakpoint
GRANT SELECT, INSERT ON public.members TO evenground_door;
--> statement-breakpoint
GRANT SELECT, UPDATE ON public.invitations TO evenground_door;
--> statement-breakpoint
ALTER TABLE public.seasons ADD CONSTRAINT seasons_do_not_overlap
  EXCLUDE USING gist (group_id WITH =, daterange(starts_on, ends_on, '[]') WITH &&) WHERE (removed_at IS NULL);
--> statement-breakpoint
CREATE FUNCTION public.beds_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF EXISTS (
    SELECT FROM gardens g JOIN beds b ON b.group_id = g.group_id AND b.garden_id = g.id AND b.removed_at IS NULL
    WHERE (g.group_id, g.id) IN (SELECT n.group_id, (to_jsonb(n) ->> TG_ARGV[0])::uuid FROM new_rows n)
    GROUP BY g.group_id, g.id, g.gross_area_cm2 HAVING sum(b.area_cm2) > g.gross_area_cm2
  ) THEN
    RAISE EXCEPTION 'the beds are larger than their garden' USING ERRCODE = 'check_violation', CONSTRAINT = 'beds_fit_their_garden';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER beds_fit_on_insert AFTER INSERT ON public.beds REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.beds_fit('garden_id');
--> statement-breakpoint
CREATE TRIGGER beds_fit_on_update AFTER UPDATE ON public.beds REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.beds_fit('garden_id');
--> statement-breakpoint
CREATE TRIGGER gardens_fit_on_update AFTER UPDATE ON public.gardens REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.beds_fit('id');
--> statement-breakpoint
CREATE FUNCTION public.refuse_locked() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what is locked never changes' USING ERRCODE = 'check_violation', CONSTRAINT = TG_NAME;
END $$;
--> statement-breakpoint
CREATE TRIGGER locked_questions_never_change BEFORE UPDATE OR DELETE ON public.season_questions
  FOR EACH ROW WHEN (OLD.locked_at IS NOT NULL) EXECUTE FUNCTION public.refuse_locked();
--> statement-breakpoint
CREATE TRIGGER frozen_reports_never_change BEFORE UPDATE ON public.reports
  FOR EACH ROW WHEN ((OLD.contents, OLD.checksum, OLD.title, OLD.words, OLD.frozen_at)
    IS DISTINCT FROM (NEW.contents, NEW.checksum, NEW.title, NEW.words, NEW.frozen_at)) EXECUTE FUNCTION public.refuse_locked();
