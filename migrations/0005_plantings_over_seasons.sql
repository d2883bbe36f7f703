ALTER TABLE "plantings" ADD COLUMN "stands_over_seasons" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "plantings" ADD COLUMN "establishing_seasons" integer;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_stand_over_seasons_or_not" CHECK ("plantings"."stands_over_seasons" in (0, 1));--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_establish_over_seasons" CHECK ("plantings"."establishing_seasons" is null or ("plantings"."establishing_seasons" >= 0 and "plantings"."stands_over_seasons" = 1));