CREATE TABLE "bed_areas" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"bed_id" uuid NOT NULL,
	"from_day" date NOT NULL,
	"area_cm2" integer NOT NULL,
	CONSTRAINT "bed_areas_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "bed_areas_area_is_not_negative" CHECK ("bed_areas"."area_cm2" >= 0)
);
--> statement-breakpoint
CREATE TABLE "garden_areas" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"from_day" date NOT NULL,
	"gross_area_cm2" integer NOT NULL,
	CONSTRAINT "garden_areas_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "garden_areas_gross_area_is_positive" CHECK ("garden_areas"."gross_area_cm2" > 0)
);
--> statement-breakpoint
ALTER TABLE "beds" ADD COLUMN "there_since" date;--> statement-breakpoint
ALTER TABLE "bed_areas" ADD CONSTRAINT "bed_areas_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "garden_areas" ADD CONSTRAINT "garden_areas_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "bed_areas_one_a_day" ON "bed_areas" USING btree ("group_id","bed_id","from_day") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "garden_areas_one_a_day" ON "garden_areas" USING btree ("group_id","garden_id","from_day") WHERE removed_at is null;