-- A planting takes its room until the day it was cleared; before that until the day on which it is meant to go, where one is
-- planned. So what follows it in the same bed can be planned too. The rest of the rule is as it was (0002), but for the
-- lock: each row's foreign key has locked the bed's key by then, and two who asked for the whole lock waited for each other.
CREATE OR REPLACE FUNCTION public.plantings_fit() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
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
