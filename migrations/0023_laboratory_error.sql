ALTER TABLE "soil_tests" ADD COLUMN "standard_error" numeric;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD COLUMN "standard_error_of" text;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD CONSTRAINT "soil_tests_error_is_possible" CHECK (("soil_tests"."standard_error" is null) = ("soil_tests"."standard_error_of" is null) and "soil_tests"."standard_error" > 0
        and ("soil_tests"."standard_error_of" = 'unit' or "soil_tests"."standard_error_of" = 'percent' and "soil_tests"."standard_error" <= 100));