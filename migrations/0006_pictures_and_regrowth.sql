CREATE TABLE "picture_bytes" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"jpeg" "bytea" NOT NULL,
	CONSTRAINT "picture_bytes_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "pictures" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"note_id" uuid NOT NULL,
	"caption" text,
	"width" integer NOT NULL,
	"height" integer NOT NULL,
	"byte_count" integer NOT NULL,
	CONSTRAINT "pictures_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "pictures_have_a_size" CHECK ("pictures"."width" > 0 and "pictures"."height" > 0 and "pictures"."byte_count" > 0)
);
--> statement-breakpoint
ALTER TABLE "bed_closures" ADD COLUMN "regrowth_after_4_weeks" integer;--> statement-breakpoint
ALTER TABLE "bed_closures" ADD COLUMN "regrowth_after_8_weeks" integer;--> statement-breakpoint
ALTER TABLE "bed_closures" ADD COLUMN "regrowth_after_12_weeks" integer;--> statement-breakpoint
ALTER TABLE "picture_bytes" ADD CONSTRAINT "picture_bytes_picture" FOREIGN KEY ("group_id","id") REFERENCES "public"."pictures"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pictures" ADD CONSTRAINT "pictures_note" FOREIGN KEY ("group_id","note_id") REFERENCES "public"."field_notes"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "pictures_by_note" ON "pictures" USING btree ("group_id","note_id");--> statement-breakpoint
ALTER TABLE "bed_closures" ADD CONSTRAINT "bed_closures_regrowth_is_not_negative" CHECK ("bed_closures"."regrowth_after_4_weeks" >= 0 and "bed_closures"."regrowth_after_8_weeks" >= 0 and "bed_closures"."regrowth_after_12_weeks" >= 0);