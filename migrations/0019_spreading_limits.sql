CREATE TABLE "spreading_limits" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"kind_of_source" text NOT NULL,
	"nutrient" text NOT NULL,
	"most_mg_per_m2" integer,
	"rule" text NOT NULL,
	"from_day" date NOT NULL,
	CONSTRAINT "spreading_limits_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "spreading_limits_source_is_known" CHECK ("spreading_limits"."kind_of_source" in ('manure', 'compost', 'mulch', 'other', 'all')),
	CONSTRAINT "spreading_limits_nutrient_is_known" CHECK ("spreading_limits"."nutrient" in ('nitrogen', 'phosphorus')),
	CONSTRAINT "spreading_limits_amount_is_possible" CHECK ("spreading_limits"."most_mg_per_m2" between 0 and 1000000)
);
--> statement-breakpoint
CREATE UNIQUE INDEX "spreading_limits_one_a_day" ON "spreading_limits" USING btree ("group_id","kind_of_source","nutrient","from_day") WHERE removed_at is null;