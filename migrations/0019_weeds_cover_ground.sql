-- How much of its ground a weed covers, of a patch with an area or of a whole garden or bed, where there is no patch to measure.
ALTER TABLE "weed_patches" ALTER COLUMN "area_cm2" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "weed_patches" ADD COLUMN "cover_permille" integer;--> statement-breakpoint
ALTER TABLE "weed_patches" ADD CONSTRAINT "weed_patches_cover_is_a_share" CHECK ("weed_patches"."cover_permille" between 0 and 1000);--> statement-breakpoint
ALTER TABLE "weed_patches" ADD CONSTRAINT "weed_patches_are_measured" CHECK (num_nonnulls("weed_patches"."area_cm2", "weed_patches"."cover_permille") > 0);