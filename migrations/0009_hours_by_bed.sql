DROP INDEX "labour_shares_garden_once";--> statement-breakpoint
ALTER TABLE "labour_entries" ALTER COLUMN "phase" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "labour_shares" ADD COLUMN "bed_id" uuid;--> statement-breakpoint
ALTER TABLE "labour_shares" ADD CONSTRAINT "labour_shares_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "labour_shares_bed_once" ON "labour_shares" USING btree ("group_id","labour_entry_id","bed_id") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "labour_shares_garden_once" ON "labour_shares" USING btree ("group_id","labour_entry_id","garden_id") WHERE removed_at is null and bed_id is null;