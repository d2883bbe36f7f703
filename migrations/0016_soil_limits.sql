ALTER TABLE "soil_tests" ADD COLUMN "beyond" text;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD CONSTRAINT "soil_tests_beyond_is_known" CHECK ("soil_tests"."beyond" in ('below', 'above'));