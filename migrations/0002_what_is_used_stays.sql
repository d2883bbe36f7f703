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
SELECT public.stays_while_used('sites', 'gardens', 'site_id'), public.stays_while_used('sites', 'blocks', 'site_id'),
       public.stays_while_used('blocks', 'beds', 'block_id'), public.stays_while_used('gardens', 'beds', 'garden_id'),
       public.stays_while_used('gardens', 'labour_entries', 'garden_id'), public.stays_while_used('gardens', 'labour_shares', 'garden_id'),
       public.stays_while_used('gardens', 'method_assignments', 'garden_id'), public.stays_while_used('methods', 'method_assignments', 'method_id'),
       public.stays_while_used('beds', 'plantings', 'bed_id'), public.stays_while_used('beds', 'labour_entries', 'bed_id'),
       public.stays_while_used('beds', 'method_assignments', 'bed_id'), public.stays_while_used('seasons', 'plantings', 'season_id'),
       public.stays_while_used('seasons', 'labour_entries', 'season_id'), public.stays_while_used('seasons', 'harvests', 'season_id'),
       public.stays_while_used('seasons', 'method_assignments', 'season_id'), public.stays_while_used('crops', 'cultivars', 'crop_id'),
       public.stays_while_used('cultivars', 'plantings', 'cultivar_id'), public.stays_while_used('plantings', 'harvests', 'planting_id'),
       public.stays_while_used('plantings', 'harvest_shares', 'planting_id'), public.stays_while_used('plantings', 'losses', 'planting_id'),
       public.stays_while_used('plantings', 'labour_entries', 'planting_id'), public.stays_while_used('matched_sets', 'plantings', 'matched_set_id'),
       public.stays_while_used('inputs', 'deliveries', 'input_id'), public.stays_while_used('deliveries', 'applications', 'delivery_id');
--> statement-breakpoint
-- As before, and now two who correct beds of one garden at once wait for each other.
CREATE OR REPLACE FUNCTION public.beds_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
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
-- What stands together cannot exceed its bed unless it is marked as interplanted. A bed is fullest on a day on which something
-- starts in it, so those days are looked at. The bed is locked first: two who plant it at once are counted together.
CREATE FUNCTION public.in_bed_from(how text, sown date, planted date) RETURNS date LANGUAGE sql IMMUTABLE AS $$
  SELECT CASE how WHEN 'transplanted' THEN coalesce(planted, sown) ELSE coalesce(sown, planted) END
$$;
--> statement-breakpoint
CREATE FUNCTION public.plantings_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM FROM beds b WHERE (b.group_id, b.id) IN (SELECT n.group_id, n.bed_id FROM new_rows n) ORDER BY b.id FOR UPDATE;
  IF EXISTS (
    WITH standing AS (
      SELECT p.group_id, p.bed_id, p.area_cm2, in_bed_from(p.how, p.sown_on, p.planted_on) AS from_day, p.cleared_on
      FROM plantings p WHERE (p.group_id, p.bed_id) IN (SELECT n.group_id, n.bed_id FROM new_rows n)
        AND p.removed_at IS NULL AND p.interplanted = 0
    )
    SELECT FROM standing s JOIN beds b ON b.group_id = s.group_id AND b.id = s.bed_id
    WHERE b.area_cm2 < (
      SELECT sum(o.area_cm2) FROM standing o WHERE o.group_id = s.group_id AND o.bed_id = s.bed_id
        AND o.from_day <= s.from_day AND (o.cleared_on IS NULL OR o.cleared_on > s.from_day)
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
