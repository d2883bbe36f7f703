-- People change and end what is theirs: sessions that can be told apart and ended, links for a forgotten password, accounts
-- that go while their record stays, and invitations for several people that can be ended.
CREATE TABLE "password_resets" (
	"person_id" uuid PRIMARY KEY NOT NULL,
	"token_hash" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"expires_at" timestamp with time zone NOT NULL
);
--> statement-breakpoint
ALTER TABLE "invitations" ADD COLUMN "places" integer DEFAULT 1 NOT NULL;--> statement-breakpoint
ALTER TABLE "invitations" ADD COLUMN "taken" integer DEFAULT 0 NOT NULL;--> statement-breakpoint
ALTER TABLE "invitations" ADD COLUMN "ended_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "people" ADD COLUMN "gone_at" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "id" uuid DEFAULT gen_random_uuid() NOT NULL;--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "last_used_at" timestamp with time zone DEFAULT now() NOT NULL;--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "browser" text;--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "system" text;--> statement-breakpoint
ALTER TABLE "password_resets" ADD CONSTRAINT "password_resets_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE UNIQUE INDEX "password_resets_token_is_unique" ON "password_resets" USING btree ("token_hash");--> statement-breakpoint
CREATE INDEX "sessions_by_person" ON "sessions" USING btree ("person_id");--> statement-breakpoint
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_let_in_as_many_as_said" CHECK ("invitations"."places" between 1 and 50 and "invitations"."taken" between 0 and "invitations"."places");--> statement-breakpoint
ALTER TABLE "people" ADD CONSTRAINT "people_gone_are_nobody" CHECK ("people"."gone_at" is null or ("people"."name" = '' and "people"."password_hash" = ''));