CREATE TABLE "crop_prices" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"crop_id" uuid NOT NULL,
	"from_day" date NOT NULL,
	"price_minor_per_kg" bigint,
	CONSTRAINT "crop_prices_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "crop_prices_price_is_not_negative" CHECK ("crop_prices"."price_minor_per_kg" >= 0)
);
--> statement-breakpoint
ALTER TABLE "crop_prices" ADD CONSTRAINT "crop_prices_crop" FOREIGN KEY ("group_id","crop_id") REFERENCES "public"."crops"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "crop_prices_one_a_day" ON "crop_prices" USING btree ("group_id","crop_id","from_day") WHERE removed_at is null;