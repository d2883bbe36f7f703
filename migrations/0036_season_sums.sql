-- What was weighed and worked in a closed season, summed once for whoever compares: it is read in a tenth of the time that the
-- summing takes. A row stands for as long as nothing of its season is written: who writes takes it away. It is no record, has
-- no history and stays out of an export.
CREATE TABLE "season_sums" (
	"group_id" uuid NOT NULL,
	"season_id" uuid NOT NULL,
	"shape" integer NOT NULL,
	"time_zone" text NOT NULL,
	"sums" json NOT NULL,
	CONSTRAINT "season_sums_group_id_season_id_pk" PRIMARY KEY("group_id","season_id")
);
--> statement-breakpoint
ALTER TABLE "season_sums" ADD CONSTRAINT "season_sums_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;
--> statement-breakpoint
SELECT public.wall_in('public.season_sums', 'group_id');
--> statement-breakpoint
GRANT SELECT ON public.season_sums TO evenground_member;
--> statement-breakpoint
-- Keeps them where the group's history still counts what it did when they were read. A writer holds the counter until it ends,
-- counts up first and takes sums away after. Whoever reads waits for nobody: where the counter is held, the count is about to be
-- another, and nothing is kept; where it is not, it is held here, so that who writes comes after and takes them away. That asks
-- of writers that they read what is committed (the service writes in no other way).
CREATE FUNCTION public.keep_season_sums(counted bigint, of_shape integer, made json) RETURNS void
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
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.keep_season_sums(bigint, integer, json) FROM PUBLIC;
--> statement-breakpoint
GRANT EXECUTE ON FUNCTION public.keep_season_sums(bigint, integer, json) TO evenground_member;
--> statement-breakpoint
-- Of weighings and hours: the season's own go, of before the change and of after it.
CREATE FUNCTION public.forget_season_sums() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF TG_OP IN ('INSERT', 'UPDATE') THEN
    DELETE FROM season_sums s WHERE (s.group_id, s.season_id) IN (SELECT n.group_id, n.season_id FROM new_rows n);
  END IF;
  IF TG_OP IN ('UPDATE', 'DELETE') THEN
    DELETE FROM season_sums s WHERE (s.group_id, s.season_id) IN (SELECT o.group_id, o.season_id FROM old_rows o);
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
-- Of labels that hide whose a crate is: the sums of the seasons in which such a crate was weighed.
CREATE FUNCTION public.forget_labelled_sums() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  DELETE FROM season_sums s WHERE (s.group_id, s.season_id) IN (SELECT h.group_id, h.season_id FROM new_rows n
    JOIN harvests h ON h.group_id = n.group_id AND h.planting_id = n.planting_id AND h.iso_week = n.iso_week);
  RETURN NULL;
END $$;
--> statement-breakpoint
-- Of what says which seasons are closed: all of the group.
CREATE FUNCTION public.forget_all_sums() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  DELETE FROM season_sums s WHERE s.group_id IN (SELECT n.group_id FROM new_rows n);
  RETURN NULL;
END $$;
--> statement-breakpoint
-- By their names after the triggers that count up.
DO $$
DECLARE summed text;
BEGIN
  FOREACH summed IN ARRAY ARRAY['harvests', 'labour_entries'] LOOP
    EXECUTE format('CREATE TRIGGER sums_end_with_inserts AFTER INSERT ON public.%I REFERENCING NEW TABLE AS new_rows
      FOR EACH STATEMENT EXECUTE FUNCTION public.forget_season_sums()', summed);
    EXECUTE format('CREATE TRIGGER sums_end_with_updates AFTER UPDATE ON public.%I REFERENCING OLD TABLE AS old_rows NEW TABLE AS new_rows
      FOR EACH STATEMENT EXECUTE FUNCTION public.forget_season_sums()', summed);
    EXECUTE format('CREATE TRIGGER sums_end_with_deletes AFTER DELETE ON public.%I REFERENCING OLD TABLE AS old_rows
      FOR EACH STATEMENT EXECUTE FUNCTION public.forget_season_sums()', summed);
  END LOOP;
END $$;
--> statement-breakpoint
CREATE TRIGGER sums_end_with_inserts AFTER INSERT ON public.crate_labels REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.forget_labelled_sums();
--> statement-breakpoint
CREATE TRIGGER sums_end_with_updates AFTER UPDATE ON public.crate_labels REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.forget_labelled_sums();
--> statement-breakpoint
CREATE TRIGGER sums_end_with_inserts AFTER INSERT ON public.seasons REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.forget_all_sums();
--> statement-breakpoint
CREATE TRIGGER sums_end_with_updates AFTER UPDATE ON public.seasons REFERENCING NEW TABLE AS new_rows
  FOR EACH STATEMENT EXECUTE FUNCTION public.forget_all_sums();
--> statement-breakpoint
-- Few hours are shared: to find none of ten years takes no look at all of them.
CREATE INDEX "labour_entries_shared" ON "labour_entries" USING btree ("group_id") WHERE share_rule is not null;
