-- Passkeys of people, and what was asked of them. Both belong to no group: they are seen at the door alone, as sessions are.
CREATE TABLE "passkey_challenges" (
	"challenge_hash" text PRIMARY KEY NOT NULL,
	"purpose" text NOT NULL,
	"person_id" uuid,
	"expires_at" timestamp with time zone NOT NULL,
	CONSTRAINT "passkey_challenges_purpose_is_known" CHECK ("passkey_challenges"."purpose" in ('sign-in', 'present', 'add')),
	CONSTRAINT "passkey_challenges_are_of_whom_they_ask" CHECK (("passkey_challenges"."purpose" = 'sign-in') = ("passkey_challenges"."person_id" is null))
);
--> statement-breakpoint
CREATE TABLE "passkeys" (
	"credential_id" text PRIMARY KEY NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"person_id" uuid NOT NULL,
	"public_key" text NOT NULL,
	"counter" bigint NOT NULL,
	"transports" text NOT NULL,
	"name" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"last_used_at" timestamp with time zone,
	CONSTRAINT "passkeys_counters_count" CHECK ("passkeys"."counter" >= 0),
	CONSTRAINT "passkeys_have_names" CHECK ("passkeys"."name" <> '')
);
--> statement-breakpoint
ALTER TABLE "sessions" ADD COLUMN "shown_until" timestamp with time zone;--> statement-breakpoint
ALTER TABLE "passkey_challenges" ADD CONSTRAINT "passkey_challenges_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "passkeys" ADD CONSTRAINT "passkeys_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "passkeys_by_person" ON "passkeys" USING btree ("person_id");
--> statement-breakpoint
DO $$
DECLARE opened text;
BEGIN
  FOREACH opened IN ARRAY ARRAY['passkeys', 'passkey_challenges'] LOOP
    EXECUTE format('ALTER TABLE public.%I ENABLE ROW LEVEL SECURITY', opened);
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
    EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON public.%I TO evenground_door', opened);
  END LOOP;
END $$;
