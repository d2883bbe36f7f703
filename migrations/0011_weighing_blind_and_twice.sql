CREATE TABLE "crate_labels" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"iso_week" text NOT NULL,
	"planting_id" uuid NOT NULL,
	"label" text NOT NULL,
	"seed" text NOT NULL,
	CONSTRAINT "crate_labels_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "crate_labels_label_is_two_letters_and_a_digit" CHECK ("crate_labels"."label" ~ '^[A-Z][A-Z][0-9]$')
);
--> statement-breakpoint
CREATE TABLE "second_readings" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"iso_week" text NOT NULL,
	"planting_id" uuid NOT NULL,
	"weighed_g" integer NOT NULL,
	CONSTRAINT "second_readings_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "second_readings_weight_is_positive" CHECK ("second_readings"."weighed_g" > 0)
);
--> statement-breakpoint
ALTER TABLE "crate_labels" ADD CONSTRAINT "crate_labels_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "second_readings" ADD CONSTRAINT "second_readings_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "crate_labels_label_is_taken" ON "crate_labels" USING btree ("group_id","iso_week","label") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "crate_labels_planting_once" ON "crate_labels" USING btree ("group_id","iso_week","planting_id") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "second_readings_planting_once" ON "second_readings" USING btree ("group_id","iso_week","planting_id") WHERE removed_at is null;