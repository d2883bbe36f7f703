CREATE INDEX "harvests_by_moment" ON "harvests" USING btree ("group_id","created_at","id");--> statement-breakpoint
CREATE INDEX "harvests_of_seed" ON "harvests" USING btree ("group_id") WHERE "harvests"."state" = 'seed';--> statement-breakpoint
CREATE INDEX "labour_entries_by_moment" ON "labour_entries" USING btree ("group_id","created_at","id");