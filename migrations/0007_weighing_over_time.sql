ALTER TABLE "harvests" ADD COLUMN "state" text;--> statement-breakpoint
ALTER TABLE "harvests" ADD COLUMN "counts" integer DEFAULT 1 NOT NULL;--> statement-breakpoint
ALTER TABLE "harvests" ADD COLUMN "lifted_on" date;--> statement-breakpoint
ALTER TABLE "harvests" ADD COLUMN "same_lot_as" uuid;--> statement-breakpoint
ALTER TABLE "harvests" ADD COLUMN "seed_lot" text;--> statement-breakpoint
ALTER TABLE "crops" ADD COLUMN "regrows" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_same_lot" FOREIGN KEY ("group_id","same_lot_as") REFERENCES "public"."harvests"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_state_is_known" CHECK ("harvests"."state" in ('fresh', 'trimmed', 'dried', 'from store', 'seed'));--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_count_or_not" CHECK ("harvests"."counts" in (0, 1) and ("harvests"."counts" = 0 or "harvests"."state" is distinct from 'seed'));--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_lifted_before_weighed" CHECK ("harvests"."lifted_on" <= "harvests"."harvested_on");--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_seed_has_a_lot" CHECK (("harvests"."state" is not distinct from 'seed') = ("harvests"."seed_lot" is not null));--> statement-breakpoint
ALTER TABLE "crops" ADD CONSTRAINT "crops_regrow_or_not" CHECK ("crops"."regrows" in (0, 1));