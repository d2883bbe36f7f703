-- The walls and the history of the areas that hold from a day, and the rules that beds fit into their garden and plantings into
-- their bed: from here on as the ground lay on each day. Nothing that stood before is changed: an area without a day has held from
-- the first, so that every season keeps its figures.
DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY['bed_areas', 'garden_areas'] LOOP
    PERFORM public.wall_in(format('public.%I', kept)::regclass, 'group_id');
    PERFORM public.keep_history(format('public.%I', kept)::regclass, 'group_id', 'id');
    EXECUTE format('GRANT SELECT, INSERT, UPDATE ON public.%I TO evenground_member', kept);
    EXECUTE format('ALTER TABLE public.%I ADD CONSTRAINT %I FOREIGN KEY (group_id) REFERENCES public.groups (id)', kept, kept || '_group');
  END LOOP;
END $$;
--> statement-breakpoint
CREATE FUNCTION public.bed_area_on(of_group uuid, of_bed uuid, on_day date) RETURNS bigint LANGUAGE sql STABLE SET search_path = public, pg_temp AS
$$ SELECT coalesce(
  (SELECT a.area_cm2 FROM bed_areas a WHERE a.group_id = of_group AND a.bed_id = of_bed AND a.removed_at IS NULL AND a.from_day <= on_day
    ORDER BY a.from_day DESC LIMIT 1),
  (SELECT b.area_cm2 FROM beds b WHERE b.group_id = of_group AND b.id = of_bed AND (b.there_since IS NULL OR b.there_since <= on_day)), 0) $$;
--> statement-breakpoint
CREATE FUNCTION public.garden_area_on(of_group uuid, of_garden uuid, on_day date) RETURNS bigint LANGUAGE sql STABLE SET search_path = public, pg_temp AS
$$ SELECT coalesce(
  (SELECT a.gross_area_cm2 FROM garden_areas a WHERE a.group_id = of_group AND a.garden_id = of_garden AND a.removed_at IS NULL
    AND a.from_day <= on_day ORDER BY a.from_day DESC LIMIT 1),
  (SELECT g.gross_area_cm2 FROM gardens g WHERE g.group_id = of_group AND g.id = of_garden)) $$;
--> statement-breakpoint
-- The beds of a garden are largest on a day on which one begins or an area changes, so those days are looked at, and the first.
CREATE FUNCTION public.beds_overflow(of_group uuid, of_gardens uuid[]) RETURNS boolean LANGUAGE sql STABLE SET search_path = public, pg_temp AS $$
  WITH own AS (
    SELECT b.id, b.garden_id, b.there_since FROM beds b WHERE b.group_id = of_group AND b.garden_id = ANY (of_gardens) AND b.removed_at IS NULL
  ), days AS (
    SELECT g AS garden_id, '-infinity'::date AS day FROM unnest(of_gardens) g
    UNION SELECT own.garden_id, own.there_since FROM own WHERE own.there_since IS NOT NULL
    UNION SELECT own.garden_id, a.from_day FROM own JOIN bed_areas a ON a.group_id = of_group AND a.bed_id = own.id AND a.removed_at IS NULL
    UNION SELECT a.garden_id, a.from_day FROM garden_areas a
      WHERE a.group_id = of_group AND a.garden_id = ANY (of_gardens) AND a.removed_at IS NULL
  )
  SELECT EXISTS (SELECT FROM days d WHERE garden_area_on(of_group, d.garden_id, d.day)
    < (SELECT sum(bed_area_on(of_group, own.id, d.day)) FROM own WHERE own.garden_id = d.garden_id))
$$;
--> statement-breakpoint
-- A bed is fullest on a day on which something starts in it, or on which it becomes smaller. What is interplanted takes no room,
-- but needs ground that is there.
CREATE FUNCTION public.beds_overfull(of_group uuid, of_beds uuid[]) RETURNS boolean LANGUAGE sql STABLE SET search_path = public, pg_temp AS $$
  WITH planted AS (
    SELECT p.bed_id, p.area_cm2, p.interplanted, in_bed_from(p.how, p.sown_on, p.planted_on) AS from_day,
      coalesce(p.cleared_on, p.stands_until) AS until_day
    FROM plantings p WHERE p.group_id = of_group AND p.bed_id = ANY (of_beds) AND p.removed_at IS NULL
  ), days AS (
    SELECT s.bed_id, s.from_day AS day FROM planted s
    UNION SELECT a.bed_id, a.from_day FROM bed_areas a WHERE a.group_id = of_group AND a.bed_id = ANY (of_beds) AND a.removed_at IS NULL
  ), room AS (
    SELECT d.bed_id, d.day, bed_area_on(of_group, d.bed_id, d.day) AS area_cm2 FROM days d
  )
  SELECT EXISTS (SELECT FROM room r WHERE r.area_cm2 < (SELECT sum(o.area_cm2) FROM planted o WHERE o.bed_id = r.bed_id
      AND o.interplanted = 0 AND o.from_day <= r.day AND (o.until_day IS NULL OR o.until_day > r.day)))
    OR EXISTS (SELECT FROM planted s JOIN room r ON r.bed_id = s.bed_id AND r.day = s.from_day WHERE r.area_cm2 = 0)
$$;
--> statement-breakpoint
CREATE FUNCTION public.beds_must_fit(of_group uuid, of_gardens uuid[]) RETURNS void LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF beds_overflow(of_group, of_gardens) THEN
    RAISE EXCEPTION 'the beds are larger than their garden' USING ERRCODE = 'check_violation', CONSTRAINT = 'beds_fit_their_garden';
  END IF;
END $$;
--> statement-breakpoint
CREATE FUNCTION public.plantings_must_fit(of_group uuid, of_beds uuid[]) RETURNS void LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF beds_overfull(of_group, of_beds) THEN
    RAISE EXCEPTION 'what stands together is larger than its bed' USING ERRCODE = 'check_violation', CONSTRAINT = 'plantings_fit_their_bed';
  END IF;
END $$;
--> statement-breakpoint
-- The triggers below ask it in the role of whoever writes; it tells of one's own transaction alone.
GRANT EXECUTE ON FUNCTION public.is_brought_in(uuid) TO evenground_member;
--> statement-breakpoint
-- While an export is brought in its tables come one after another, areas after the beds that they are of: it is looked at as a
-- whole when it is there (end_bringing_in). Two who correct beds of one garden at once wait for each other, as before.
CREATE OR REPLACE FUNCTION public.beds_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
DECLARE of_group uuid;
BEGIN
  IF is_brought_in(current_group()) THEN
    RETURN NULL;
  END IF;
  PERFORM FROM gardens g WHERE (g.group_id, g.id) IN (SELECT n.group_id, (to_jsonb(n) ->> TG_ARGV[0])::uuid FROM new_rows n)
    ORDER BY g.id FOR UPDATE;
  FOR of_group IN SELECT DISTINCT n.group_id FROM new_rows n LOOP
    PERFORM beds_must_fit(of_group, ARRAY(SELECT DISTINCT (to_jsonb(n) ->> TG_ARGV[0])::uuid FROM new_rows n WHERE n.group_id = of_group));
  END LOOP;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER garden_areas_fit_on_insert AFTER INSERT ON public.garden_areas REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.beds_fit('garden_id');
--> statement-breakpoint
CREATE TRIGGER garden_areas_fit_on_update AFTER UPDATE ON public.garden_areas REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.beds_fit('garden_id');
--> statement-breakpoint
CREATE OR REPLACE FUNCTION public.plantings_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
DECLARE of_group uuid;
BEGIN
  IF is_brought_in(current_group()) THEN
    RETURN NULL;
  END IF;
  PERFORM FROM beds b WHERE (b.group_id, b.id) IN (SELECT n.group_id, n.bed_id FROM new_rows n) ORDER BY b.id FOR NO KEY UPDATE;
  FOR of_group IN SELECT DISTINCT n.group_id FROM new_rows n LOOP
    PERFORM plantings_must_fit(of_group, ARRAY(SELECT DISTINCT n.bed_id FROM new_rows n WHERE n.group_id = of_group));
  END LOOP;
  RETURN NULL;
END $$;
--> statement-breakpoint
-- An area that a bed has from a day must hold what stands in it then, and fit into the garden.
CREATE FUNCTION public.bed_areas_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
DECLARE of_group uuid;
BEGIN
  IF is_brought_in(current_group()) THEN
    RETURN NULL;
  END IF;
  PERFORM FROM gardens g WHERE (g.group_id, g.id) IN (
    SELECT b.group_id, b.garden_id FROM beds b JOIN new_rows n ON n.group_id = b.group_id AND n.bed_id = b.id) ORDER BY g.id FOR UPDATE;
  PERFORM FROM beds b WHERE (b.group_id, b.id) IN (SELECT n.group_id, n.bed_id FROM new_rows n) ORDER BY b.id FOR NO KEY UPDATE;
  FOR of_group IN SELECT DISTINCT n.group_id FROM new_rows n LOOP
    PERFORM beds_must_fit(of_group, ARRAY(SELECT DISTINCT b.garden_id FROM beds b JOIN new_rows n ON n.bed_id = b.id AND n.group_id = of_group
      WHERE b.group_id = of_group));
    PERFORM plantings_must_fit(of_group, ARRAY(SELECT DISTINCT n.bed_id FROM new_rows n WHERE n.group_id = of_group));
  END LOOP;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER bed_areas_fit_on_insert AFTER INSERT ON public.bed_areas REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.bed_areas_fit();
--> statement-breakpoint
CREATE TRIGGER bed_areas_fit_on_update AFTER UPDATE ON public.bed_areas REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.bed_areas_fit();
--> statement-breakpoint
DROP TRIGGER beds_hold_what_stands ON public.beds;
--> statement-breakpoint
CREATE OR REPLACE FUNCTION public.beds_hold() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM plantings_must_fit(NEW.group_id, ARRAY[NEW.id]);
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER beds_hold_what_stands AFTER UPDATE OF area_cm2, there_since ON public.beds
  FOR EACH ROW WHEN (NEW.area_cm2 < OLD.area_cm2 OR NEW.there_since IS DISTINCT FROM OLD.there_since)
  EXECUTE FUNCTION public.beds_hold();
--> statement-breakpoint
CREATE OR REPLACE FUNCTION public.end_bringing_in(counted bigint) RETURNS void LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NOT is_brought_in(current_group()) THEN
    RAISE EXCEPTION 'nothing is being brought in' USING ERRCODE = 'check_violation', CONSTRAINT = 'history_is_written';
  END IF;
  IF counted < coalesce((SELECT max(c.number) FROM changes c WHERE c.group_id = current_group()), 0) THEN
    RAISE EXCEPTION 'the counter is behind its history' USING ERRCODE = 'check_violation', CONSTRAINT = 'counter_is_behind';
  END IF;
  PERFORM beds_must_fit(current_group(), ARRAY(SELECT g.id FROM gardens g WHERE g.group_id = current_group()));
  PERFORM plantings_must_fit(current_group(), ARRAY(SELECT b.id FROM beds b WHERE b.group_id = current_group()));
  INSERT INTO group_counters (group_id, changes) VALUES (current_group(), counted);
  DELETE FROM bringings_in WHERE "transaction" = pg_current_xact_id();
END $$;
