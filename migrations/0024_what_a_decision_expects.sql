-- A decision keeps what a page of Decide asked, answered and took for granted, and what it expects as a figure, so that the record can say what happened.
ALTER TABLE "decisions" ADD COLUMN "question" text;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "assumptions" text;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "address" text;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "measure" text;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "unit" text;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "expected_thousandths" bigint;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "low_thousandths" bigint;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "high_thousandths" bigint;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "about_season_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "method_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "beside_method_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "garden_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "bed_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD COLUMN "input_id" uuid;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_about_season" FOREIGN KEY ("group_id","about_season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_method" FOREIGN KEY ("group_id","method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_beside_method" FOREIGN KEY ("group_id","beside_method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_input" FOREIGN KEY ("group_id","input_id") REFERENCES "public"."inputs"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_figure_is_whole" CHECK (num_nonnulls("decisions"."measure", "decisions"."unit", "decisions"."expected_thousandths") in (0, 3)
        and num_nonnulls("decisions"."low_thousandths", "decisions"."high_thousandths") in (0, 2)
        and ("decisions"."measure" is not null or num_nonnulls("decisions"."low_thousandths", "decisions"."about_season_id", "decisions"."method_id",
          "decisions"."beside_method_id", "decisions"."garden_id", "decisions"."bed_id", "decisions"."input_id") = 0));--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_range_is_in_order" CHECK ("decisions"."low_thousandths" <= "decisions"."expected_thousandths" and "decisions"."expected_thousandths" <= "decisions"."high_thousandths");--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_methods_are_two" CHECK ("decisions"."method_id" <> "decisions"."beside_method_id");--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_ground_is_one" CHECK (num_nonnulls("decisions"."garden_id", "decisions"."bed_id") < 2);