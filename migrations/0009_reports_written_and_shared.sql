CREATE TABLE "guesses" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"person_id" uuid NOT NULL,
	"season_id" uuid NOT NULL,
	"reference_method_id" uuid NOT NULL,
	"method_id" uuid NOT NULL,
	"percent" integer NOT NULL,
	CONSTRAINT "guesses_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "guesses_are_possible" CHECK ("guesses"."percent" between -99 and 900)
);
--> statement-breakpoint
CREATE TABLE "link_openings" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"link_id" uuid NOT NULL,
	"day" date NOT NULL,
	"openings" integer NOT NULL,
	CONSTRAINT "link_openings_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "link_openings_are_counted" CHECK ("link_openings"."openings" > 0)
);
--> statement-breakpoint
CREATE TABLE "name_agreements" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"person_id" uuid NOT NULL,
	"agreed" integer NOT NULL,
	CONSTRAINT "name_agreements_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "name_agreements_are_yes_or_no" CHECK ("name_agreements"."agreed" in (0, 1))
);
--> statement-breakpoint
ALTER TABLE "reports" ALTER COLUMN "contents" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ALTER COLUMN "checksum" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ALTER COLUMN "frozen_at" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "state" text DEFAULT 'frozen' NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "keeps" text DEFAULT 'frozen' NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "season" text DEFAULT 'all' NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "sections" jsonb DEFAULT '[]'::jsonb NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "rows_agreed" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "first_id" uuid;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "edition" integer DEFAULT 1 NOT NULL;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "rows" jsonb;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "data_cut_off" bigint;--> statement-breakpoint
ALTER TABLE "reports" ADD COLUMN "service_version" text;--> statement-breakpoint
ALTER TABLE "share_links" ADD COLUMN "passphrase_hash" text;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_method" FOREIGN KEY ("group_id","method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_reference" FOREIGN KEY ("group_id","reference_method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "link_openings" ADD CONSTRAINT "link_openings_link" FOREIGN KEY ("group_id","link_id") REFERENCES "public"."share_links"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "guesses_one_a_person_and_season" ON "guesses" USING btree ("group_id","season_id","person_id","method_id");--> statement-breakpoint
CREATE UNIQUE INDEX "link_openings_day_once" ON "link_openings" USING btree ("group_id","link_id","day");--> statement-breakpoint
CREATE UNIQUE INDEX "name_agreements_person_once" ON "name_agreements" USING btree ("group_id","person_id");--> statement-breakpoint
CREATE UNIQUE INDEX "reports_edition_once" ON "reports" USING btree ("group_id","first_id","edition") WHERE removed_at is null;--> statement-breakpoint
ALTER TABLE "reports" ADD CONSTRAINT "reports_state_is_known" CHECK ("reports"."state" in ('draft', 'live', 'frozen'));--> statement-breakpoint
ALTER TABLE "reports" ADD CONSTRAINT "reports_keeps_is_known" CHECK ("reports"."keeps" in ('live', 'frozen'));--> statement-breakpoint
ALTER TABLE "reports" ADD CONSTRAINT "reports_frozen_is_whole" CHECK ("reports"."state" <> 'frozen' or num_nonnulls("reports"."contents", "reports"."checksum", "reports"."frozen_at") = 3);