-- A group states over how many seasons it spreads the work of establishing a method; null: it has not said.
ALTER TABLE "methods" ADD COLUMN "establishing_seasons" integer;--> statement-breakpoint
ALTER TABLE "methods" ADD CONSTRAINT "methods_establishing_is_spread" CHECK ("methods"."establishing_seasons" between 1 and 100);