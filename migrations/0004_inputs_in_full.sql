CREATE TABLE "measures" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"volume_ml" integer,
	"mass_g" integer,
	CONSTRAINT "measures_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "measures_hold_something" CHECK (num_nonnulls("measures"."volume_ml", "measures"."mass_g") > 0),
	CONSTRAINT "measures_are_positive" CHECK ("measures"."volume_ml" > 0 and "measures"."mass_g" > 0)
);
--> statement-breakpoint
ALTER TABLE "deliveries" ALTER COLUMN "delivered_on" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD COLUMN "delivery_id" uuid;--> statement-breakpoint
ALTER TABLE "crops" ADD COLUMN "touches_soil" integer;--> statement-breakpoint
CREATE UNIQUE INDEX "measures_name_is_taken" ON "measures" USING btree ("group_id",lower("name")) WHERE removed_at is null;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_delivery" FOREIGN KEY ("group_id","delivery_id") REFERENCES "public"."deliveries"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_depth_is_positive" CHECK ("applications"."depth_mm" > 0);--> statement-breakpoint
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_ordered_or_come" CHECK (num_nonnulls("deliveries"."ordered_on", "deliveries"."delivered_on") > 0);--> statement-breakpoint
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_come_after_the_order" CHECK ("deliveries"."delivered_on" >= "deliveries"."ordered_on");--> statement-breakpoint
ALTER TABLE "inputs" ADD CONSTRAINT "inputs_manure_is_known" CHECK ("inputs"."raw_manure" between 0 and 2);--> statement-breakpoint
ALTER TABLE "inputs" ADD CONSTRAINT "inputs_moisture_is_a_part" CHECK ("inputs"."moisture_permille" between 0 and 1000);--> statement-breakpoint
ALTER TABLE "inputs" ADD CONSTRAINT "inputs_density_is_positive" CHECK ("inputs"."density_kg_per_m3" > 0);--> statement-breakpoint
ALTER TABLE "stocks" ADD CONSTRAINT "stocks_ready_after_start" CHECK ("stocks"."ready_on" >= "stocks"."started_on");--> statement-breakpoint
ALTER TABLE "crops" ADD CONSTRAINT "crops_touch_the_soil_or_not" CHECK ("crops"."touches_soil" in (0, 1));