-- A relay, sown into a crop that stood on its first day, takes no room of its own as long as that stands, and its own from the day
-- on which it goes: a bed is fullest then too. What was written before is looked at again only when something of its bed changes.
CREATE OR REPLACE FUNCTION public.beds_overfull(of_group uuid, of_beds uuid[]) RETURNS boolean LANGUAGE sql STABLE SET search_path = public, pg_temp AS $$
  WITH planted AS (
    SELECT p.id, p.bed_id, p.area_cm2, p.interplanted, in_bed_from(p.how, p.sown_on, p.planted_on) AS from_day,
      coalesce(p.cleared_on, p.stands_until) AS until_day
    FROM plantings p WHERE p.group_id = of_group AND p.bed_id = ANY (of_beds) AND p.removed_at IS NULL
  ), hosts AS (
    SELECT s.id, h.until_day FROM planted s JOIN planted h ON h.bed_id = s.bed_id AND h.interplanted = 0
      AND h.from_day <= s.from_day AND (h.until_day IS NULL OR h.until_day > s.from_day)
    WHERE s.interplanted = 1
  ), alone AS (
    SELECT s.bed_id, s.area_cm2, max(h.until_day) AS from_day, s.until_day FROM planted s JOIN hosts h ON h.id = s.id
    GROUP BY s.id, s.bed_id, s.area_cm2, s.until_day HAVING count(*) = count(h.until_day)
  ), taking AS (
    SELECT bed_id, area_cm2, from_day, until_day FROM planted WHERE interplanted = 0 UNION ALL SELECT bed_id, area_cm2, from_day, until_day FROM alone
  ), days AS (
    SELECT s.bed_id, s.from_day AS day FROM planted s UNION SELECT t.bed_id, t.from_day FROM taking t
    UNION SELECT a.bed_id, a.from_day FROM bed_areas a WHERE a.group_id = of_group AND a.bed_id = ANY (of_beds) AND a.removed_at IS NULL
  ), room AS (
    SELECT d.bed_id, d.day, bed_area_on(of_group, d.bed_id, d.day) AS area_cm2 FROM days d
  )
  SELECT EXISTS (SELECT FROM room r WHERE r.area_cm2 < (SELECT sum(o.area_cm2) FROM taking o WHERE o.bed_id = r.bed_id
      AND o.from_day <= r.day AND (o.until_day IS NULL OR o.until_day > r.day)))
    OR EXISTS (SELECT FROM planted s JOIN room r ON r.bed_id = s.bed_id AND r.day = s.from_day WHERE r.area_cm2 = 0)
$$;
