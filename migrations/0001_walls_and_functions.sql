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
-- One row of history for each row that a statement changed, numbered from the group's counter; none beside what is brought in,
-- which has its history with it. Arguments: the column that holds the group, the column that names the row within it.
CREATE FUNCTION public.write_history() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
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
    'sites', 'blocks', 'methods', 'gardens', 'beds', 'bed_closures', 'seasons', 'method_assignments',
    'season_questions', 'crops', 'cultivars', 'matched_sets', 'plantings', 'containers', 'harvests', 'harvest_shares',
    'losses', 'labour_entries', 'labour_shares', 'week_closings', 'inputs', 'measures', 'deliveries', 'stocks',
    'applications', 'soil_tests', 'field_notes', 'pictures', 'counts', 'weed_patches', 'weather_days', 'decisions',
    'reports', 'share_links', 'name_agreements', 'guesses', 'crate_labels', 'second_readings'
  ] LOOP
    PERFORM public.wall_in(format('public.%I', kept)::regclass, 'group_id');
    PERFORM public.keep_history(format('public.%I', kept)::regclass, 'group_id', 'id');
    EXECUTE format('GRANT SELECT, INSERT, UPDATE ON public.%I TO evenground_member', kept);
    EXECUTE format('ALTER TABLE public.%I ADD CONSTRAINT %I FOREIGN KEY (group_id) REFERENCES public.groups (id)', kept, kept || '_group');
  END LOOP;
END $$;
--> statement-breakpoint
-- Bytes of pictures are written once, and the history, which copies rows, never sees them. Openings of a link are counted
-- without a history: a count is nothing that somebody wrote, and a history of it would keep the minute of each opening.
SELECT public.wall_in('public.picture_bytes', 'group_id'), public.wall_in('public.link_openings', 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT ON public.picture_bytes TO evenground_member;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.link_openings TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.picture_bytes ADD CONSTRAINT picture_bytes_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
--> statement-breakpoint
ALTER TABLE public.link_openings ADD CONSTRAINT link_openings_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
--> statement-breakpoint
-- The group itself, its members and its invitations. An invitation is history as a member is: who made it, who came in by
-- it, who ended it.
SELECT public.wall_in('public.groups', 'id'), public.keep_history('public.groups', 'id', 'id'),
       public.wall_in('public.members', 'group_id'), public.keep_history('public.members', 'group_id', 'person_id'),
       public.wall_in('public.invitations', 'group_id'), public.keep_history('public.invitations', 'group_id', 'id'),
       public.wall_in('public.changes', 'group_id'), public.wall_in('public.group_counters', 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.groups, public.invitations TO evenground_member;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE (role), DELETE ON public.members TO evenground_member;
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
-- The door knows who comes in and to which groups; it reads nothing of what a group has written down. Sign-ins, guesses
-- counted, resets and second steps at sign-in are seen by the door alone, by no group.
DO $$
DECLARE opened text;
BEGIN
  FOREACH opened IN ARRAY ARRAY[
    'sessions', 'rate_limits', 'password_resets', 'second_steps', 'recovery_codes', 'half_sign_ins'
  ] LOOP
    EXECUTE format('ALTER TABLE public.%I ENABLE ROW LEVEL SECURITY', opened);
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
    EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON public.%I TO evenground_door', opened);
  END LOOP;
  FOREACH opened IN ARRAY ARRAY['people', 'groups', 'members', 'invitations', 'share_links'] LOOP
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
  END LOOP;
END $$;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.people TO evenground_door;
--> statement-breakpoint
GRANT SELECT ON public.groups, public.share_links TO evenground_door;
--> statement-breakpoint
GRANT SELECT, INSERT, DELETE ON public.members TO evenground_door;
--> statement-breakpoint
GRANT SELECT, UPDATE ON public.invitations TO evenground_door;
--> statement-breakpoint
-- Who may change who is in a group stands in the database too. A keeper changes roles and takes people out, anyone leaves by
-- themselves, and the last keeper stays: of two changes at once the second waits for the first and sees what it did. What runs
-- in neither role of the service (a migration) is not asked who it is.
CREATE FUNCTION public.is_keeper(of_group uuid) RETURNS boolean LANGUAGE sql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS
$$ SELECT EXISTS (SELECT FROM members m WHERE m.group_id = of_group AND m.person_id = current_person() AND m.role = 'keeper') $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.is_keeper(uuid) FROM PUBLIC;
--> statement-breakpoint
CREATE FUNCTION public.guard_members() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  may boolean;
BEGIN
  IF TG_OP = 'INSERT' THEN
    -- The first of a new group is who makes it; whoever comes later comes by an invitation that this transaction used.
    may := CASE current_setting('role')
      WHEN 'evenground_member' THEN NEW.person_id = current_person() AND NOT EXISTS (SELECT FROM members m WHERE m.group_id = NEW.group_id)
      WHEN 'evenground_door' THEN EXISTS (SELECT FROM invitations i WHERE i.group_id = NEW.group_id AND i.role = NEW.role
        AND i.used_by = NEW.person_id AND i.used_at = now())
      ELSE true END;
  ELSE
    -- Each write of a group holds its counter until it ends; a change of members takes it first.
    PERFORM FROM group_counters c WHERE c.group_id = OLD.group_id FOR UPDATE;
    may := current_setting('role') NOT IN ('evenground_member', 'evenground_door') OR is_keeper(OLD.group_id)
      OR (TG_OP = 'DELETE' AND OLD.person_id = current_person());
  END IF;
  IF may IS NOT TRUE THEN
    RAISE EXCEPTION 'only keepers change who is in a group' USING ERRCODE = 'check_violation', CONSTRAINT = 'members_are_changed_by_keepers';
  END IF;
  RETURN CASE TG_OP WHEN 'DELETE' THEN OLD ELSE NEW END;
END $$;
--> statement-breakpoint
CREATE TRIGGER members_are_changed_by_keepers BEFORE INSERT OR UPDATE OR DELETE ON public.members
  FOR EACH ROW EXECUTE FUNCTION public.guard_members();
--> statement-breakpoint
CREATE FUNCTION public.keep_a_keeper() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM members m WHERE m.group_id = OLD.group_id AND m.role = 'keeper') THEN
    RAISE EXCEPTION 'a group keeps a keeper' USING ERRCODE = 'check_violation', CONSTRAINT = 'group_keeps_a_keeper';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER members_keep_a_keeper AFTER UPDATE OR DELETE ON public.members
  FOR EACH ROW WHEN (OLD.role = 'keeper') EXECUTE FUNCTION public.keep_a_keeper();
--> statement-breakpoint
CREATE FUNCTION public.guard_invitations() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF current_setting('role') = 'evenground_member' AND NOT is_keeper(NEW.group_id) THEN
    RAISE EXCEPTION 'only keepers invite' USING ERRCODE = 'check_violation', CONSTRAINT = 'invitations_are_made_by_keepers';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER invitations_are_made_by_keepers BEFORE INSERT OR UPDATE ON public.invitations
  FOR EACH ROW EXECUTE FUNCTION public.guard_invitations();
--> statement-breakpoint
-- A season lasts two years at most and lies in the years of a record (src/quantities/dates.ts), also one that a package brings
-- in: its weeks are gone through on every page that compares.
ALTER TABLE public.seasons ADD CONSTRAINT seasons_last_two_years_at_most
  CHECK (ends_on <= starts_on + 731 AND starts_on >= '1900-01-01' AND ends_on <= '2199-12-31') NOT VALID;
--> statement-breakpoint
ALTER TABLE public.seasons ADD CONSTRAINT seasons_do_not_overlap
  EXCLUDE USING gist (group_id WITH =, daterange(starts_on, ends_on, '[]') WITH &&) WHERE (removed_at IS NULL);
--> statement-breakpoint
-- Beds fit into their garden; two who correct beds of one garden at once wait for each other.
CREATE FUNCTION public.beds_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM FROM gardens g WHERE (g.group_id, g.id) IN (SELECT n.group_id, (to_jsonb(n) ->> TG_ARGV[0])::uuid FROM new_rows n)
    ORDER BY g.id FOR UPDATE;
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
-- What stands together cannot exceed its bed unless it is marked as interplanted. A planting takes its room until the day it
-- was cleared; before that until the day on which it is meant to go, where one is planned, so that what follows it in the same
-- bed can be planned too. A bed is fullest on a day on which something starts in it, so those days are looked at. The bed is
-- locked first: two who plant it at once are counted together. Its whole lock is not asked for: each row's foreign key has
-- locked the bed's key by then, and two who asked for more would wait for each other.
CREATE FUNCTION public.in_bed_from(how text, sown date, planted date) RETURNS date LANGUAGE sql IMMUTABLE AS $$
  SELECT CASE how WHEN 'transplanted' THEN coalesce(planted, sown) ELSE coalesce(sown, planted) END
$$;
--> statement-breakpoint
CREATE FUNCTION public.plantings_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM FROM beds b WHERE (b.group_id, b.id) IN (SELECT n.group_id, n.bed_id FROM new_rows n) ORDER BY b.id FOR NO KEY UPDATE;
  IF EXISTS (
    WITH standing AS (
      SELECT p.group_id, p.bed_id, p.area_cm2, in_bed_from(p.how, p.sown_on, p.planted_on) AS from_day,
        coalesce(p.cleared_on, p.stands_until) AS until_day
      FROM plantings p WHERE (p.group_id, p.bed_id) IN (SELECT n.group_id, n.bed_id FROM new_rows n)
        AND p.removed_at IS NULL AND p.interplanted = 0
    )
    SELECT FROM standing s JOIN beds b ON b.group_id = s.group_id AND b.id = s.bed_id
    WHERE b.area_cm2 < (
      SELECT sum(o.area_cm2) FROM standing o WHERE o.group_id = s.group_id AND o.bed_id = s.bed_id
        AND o.from_day <= s.from_day AND (o.until_day IS NULL OR o.until_day > s.from_day)
    )
  ) THEN
    RAISE EXCEPTION 'what stands together is larger than its bed' USING ERRCODE = 'check_violation', CONSTRAINT = 'plantings_fit_their_bed';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER plantings_fit_on_insert AFTER INSERT ON public.plantings REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.plantings_fit();
--> statement-breakpoint
CREATE TRIGGER plantings_fit_on_update AFTER UPDATE ON public.plantings REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.plantings_fit();
--> statement-breakpoint
-- Nor is a bed made smaller than what stands or stood in it together.
CREATE FUNCTION public.beds_hold() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF EXISTS (
    WITH standing AS (
      SELECT p.area_cm2, in_bed_from(p.how, p.sown_on, p.planted_on) AS from_day, coalesce(p.cleared_on, p.stands_until) AS until_day
      FROM plantings p WHERE p.group_id = NEW.group_id AND p.bed_id = NEW.id AND p.removed_at IS NULL AND p.interplanted = 0
    )
    SELECT FROM standing s WHERE NEW.area_cm2 < (
      SELECT sum(o.area_cm2) FROM standing o
      WHERE o.from_day <= s.from_day AND (o.until_day IS NULL OR o.until_day > s.from_day)
    )
  ) THEN
    RAISE EXCEPTION 'what stands together is larger than its bed' USING ERRCODE = 'check_violation', CONSTRAINT = 'plantings_fit_their_bed';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER beds_hold_what_stands AFTER UPDATE OF area_cm2 ON public.beds
  FOR EACH ROW WHEN (NEW.area_cm2 < OLD.area_cm2) EXECUTE FUNCTION public.beds_hold();
--> statement-breakpoint
-- A row that others rest on is not marked as removed before they are: a bed under a planting, a planting that was picked.
CREATE FUNCTION public.refuse_while_used() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
DECLARE used boolean;
BEGIN
  EXECUTE format('SELECT EXISTS (SELECT FROM %I WHERE group_id = $1 AND %I = $2 AND removed_at IS NULL)', TG_ARGV[0], TG_ARGV[1])
    INTO used USING OLD.group_id, OLD.id;
  IF used THEN
    RAISE EXCEPTION 'rows of % rest on this one', TG_ARGV[0] USING ERRCODE = 'check_violation', CONSTRAINT = 'stays_while_used';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE FUNCTION public.stays_while_used(used text, by_table text, by_column text) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  EXECUTE format(
    'CREATE TRIGGER %I BEFORE UPDATE OF removed_at ON public.%I FOR EACH ROW WHEN (OLD.removed_at IS NULL AND NEW.removed_at IS NOT NULL) EXECUTE FUNCTION public.refuse_while_used(%L, %L)',
    used || '_stay_for_' || by_table || '_' || by_column, used, by_table, by_column);
END $$;
--> statement-breakpoint
DO $$
DECLARE pair text[];
BEGIN
  FOREACH pair SLICE 1 IN ARRAY ARRAY[
    ARRAY['sites', 'gardens', 'site_id'],
    ARRAY['sites', 'blocks', 'site_id'],
    ARRAY['blocks', 'beds', 'block_id'],
    ARRAY['gardens', 'beds', 'garden_id'],
    ARRAY['gardens', 'labour_entries', 'garden_id'],
    ARRAY['gardens', 'labour_shares', 'garden_id'],
    ARRAY['gardens', 'method_assignments', 'garden_id'],
    ARRAY['gardens', 'applications', 'garden_id'],
    ARRAY['methods', 'method_assignments', 'method_id'],
    ARRAY['beds', 'plantings', 'bed_id'],
    ARRAY['beds', 'labour_entries', 'bed_id'],
    ARRAY['beds', 'method_assignments', 'bed_id'],
    ARRAY['beds', 'applications', 'bed_id'],
    ARRAY['seasons', 'plantings', 'season_id'],
    ARRAY['seasons', 'labour_entries', 'season_id'],
    ARRAY['seasons', 'harvests', 'season_id'],
    ARRAY['seasons', 'method_assignments', 'season_id'],
    ARRAY['crops', 'cultivars', 'crop_id'],
    ARRAY['cultivars', 'plantings', 'cultivar_id'],
    ARRAY['matched_sets', 'plantings', 'matched_set_id'],
    ARRAY['plantings', 'harvests', 'planting_id'],
    ARRAY['plantings', 'harvest_shares', 'planting_id'],
    ARRAY['plantings', 'losses', 'planting_id'],
    ARRAY['plantings', 'labour_entries', 'planting_id'],
    ARRAY['plantings', 'applications', 'planting_id'],
    ARRAY['plantings', 'crate_labels', 'planting_id'],
    ARRAY['plantings', 'second_readings', 'planting_id'],
    ARRAY['inputs', 'deliveries', 'input_id'],
    ARRAY['inputs', 'stocks', 'input_id'],
    ARRAY['deliveries', 'applications', 'delivery_id'],
    ARRAY['deliveries', 'labour_entries', 'delivery_id']
  ] LOOP
    PERFORM public.stays_while_used(pair[1], pair[2], pair[3]);
  END LOOP;
END $$;
--> statement-breakpoint
-- What is locked never changes: a question asked beforehand, and of a frozen report everything but the mark that removes it.
CREATE FUNCTION public.refuse_locked() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what is locked never changes' USING ERRCODE = 'check_violation', CONSTRAINT = TG_NAME;
END $$;
--> statement-breakpoint
CREATE TRIGGER locked_questions_never_change BEFORE UPDATE OR DELETE ON public.season_questions
  FOR EACH ROW WHEN (OLD.locked_at IS NOT NULL) EXECUTE FUNCTION public.refuse_locked();
--> statement-breakpoint
CREATE TRIGGER frozen_reports_never_change BEFORE UPDATE ON public.reports
  FOR EACH ROW WHEN (OLD.state = 'frozen' AND
    (OLD.title, OLD.words, OLD.state, OLD.keeps, OLD.season, OLD.sections, OLD.pictures, OLD.rows_agreed, OLD.first_id, OLD.edition,
     OLD.contents, OLD.rows, OLD.schema_version, OLD.checksum, OLD.data_cut_off, OLD.service_version, OLD.frozen_at)
    IS DISTINCT FROM
    (NEW.title, NEW.words, NEW.state, NEW.keeps, NEW.season, NEW.sections, NEW.pictures, NEW.rows_agreed, NEW.first_id, NEW.edition,
     NEW.contents, NEW.rows, NEW.schema_version, NEW.checksum, NEW.data_cut_off, NEW.service_version, NEW.frozen_at))
  EXECUTE FUNCTION public.refuse_locked();
--> statement-breakpoint
-- A guess can be changed until its season is closed. A first one may come later, from somebody who has not seen the result.
CREATE FUNCTION public.refuse_late_guess() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT FROM seasons s WHERE s.group_id = NEW.group_id AND s.id = NEW.season_id AND s.closed_at IS NOT NULL) THEN
    RAISE EXCEPTION 'the season is closed' USING ERRCODE = 'check_violation', CONSTRAINT = 'guesses_end_with_the_season';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER guesses_end_with_the_season BEFORE UPDATE ON public.guesses
  FOR EACH ROW EXECUTE FUNCTION public.refuse_late_guess();
