-- Until when a planting is meant to stand: a season is planned before anything in it is cleared.
ALTER TABLE "plantings" ADD COLUMN "stands_until" date;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_stand_after_sown" CHECK ("plantings"."stands_until" >= coalesce("plantings"."sown_on", "plantings"."planted_on"));