-- Whoever reads does not wait for whoever writes: a writer holds the group's counter until it ends, and once it has, the count
-- is another one, so that there was nothing to keep. Where it is held, nothing is kept, and the next who reads keeps it.
CREATE OR REPLACE FUNCTION public.keep_season_sums(counted bigint, of_shape integer, made json) RETURNS void
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  PERFORM FROM group_counters c WHERE c.group_id = current_group() AND c.changes = counted FOR SHARE SKIP LOCKED;
  IF FOUND THEN
    INSERT INTO season_sums (group_id, season_id, shape, time_zone, sums)
    SELECT g.id, r."seasonId", of_shape, g.time_zone, r.sums
    FROM groups g, json_to_recordset(made) AS r("seasonId" uuid, sums json)
    WHERE g.id = current_group()
    ORDER BY r."seasonId"
    ON CONFLICT (group_id, season_id) DO UPDATE
      SET shape = excluded.shape, time_zone = excluded.time_zone, sums = excluded.sums;
  END IF;
END $$;
