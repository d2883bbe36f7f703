-- Of several questions of one season that two keepers began at the same moment, the first stays: it is the one that was shown.
ALTER TABLE public.season_questions DISABLE TRIGGER locked_questions_never_change;
--> statement-breakpoint
UPDATE public.season_questions q SET removed_at = now(), removed_reason = 'begun twice' WHERE q.removed_at IS NULL AND EXISTS (
  SELECT FROM public.season_questions o WHERE o.group_id = q.group_id AND o.season_id = q.season_id AND o.removed_at IS NULL
    AND (o.created_at, o.id) < (q.created_at, q.id)
);
--> statement-breakpoint
ALTER TABLE public.season_questions ENABLE TRIGGER locked_questions_never_change;
--> statement-breakpoint
CREATE UNIQUE INDEX "season_questions_season_has_one" ON "season_questions" USING btree ("group_id","season_id") WHERE removed_at is null;
--> statement-breakpoint
-- What stands together cannot exceed its bed (0002, 0014), and a bed is not made smaller than what stands or stood in it together.
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
