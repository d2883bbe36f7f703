-- Exports are signed by a key of this installation; keys of others are confirmed by people; a group knows where it came from and
-- whom it waits for.
CREATE TABLE "awaited_people" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"role" text NOT NULL,
	"email" text,
	CONSTRAINT "awaited_people_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "awaited_people_role_is_known" CHECK ("awaited_people"."role" in ('keeper', 'recorder', 'reader'))
);
--> statement-breakpoint
CREATE TABLE "confirmed_keys" (
	"person_id" uuid NOT NULL,
	"fingerprint" text NOT NULL,
	"name" text NOT NULL,
	"confirmed_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "confirmed_keys_person_id_fingerprint_pk" PRIMARY KEY("person_id","fingerprint")
);
--> statement-breakpoint
CREATE TABLE "installation_keys" (
	"one" integer PRIMARY KEY DEFAULT 1 NOT NULL,
	"private_key" text NOT NULL,
	"public_key" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "installation_keys_are_one" CHECK ("installation_keys"."one" = 1)
);
--> statement-breakpoint
CREATE TABLE "package_origins" (
	"group_id" uuid PRIMARY KEY NOT NULL,
	"state" text NOT NULL,
	"fingerprint" text,
	"brought_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "package_origins_state_is_known" CHECK ("package_origins"."state" in ('unchanged', 'changed', 'unsigned')),
	CONSTRAINT "package_origins_name_their_key" CHECK ("package_origins"."state" <> 'unchanged' or "package_origins"."fingerprint" is not null)
);
--> statement-breakpoint
ALTER TABLE "confirmed_keys" ADD CONSTRAINT "confirmed_keys_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "package_origins" ADD CONSTRAINT "package_origins_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;
--> statement-breakpoint
DO $$
DECLARE opened text;
BEGIN
  FOREACH opened IN ARRAY ARRAY['installation_keys', 'confirmed_keys'] LOOP
    EXECUTE format('ALTER TABLE public.%I ENABLE ROW LEVEL SECURITY', opened);
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
  END LOOP;
END $$;
--> statement-breakpoint
GRANT SELECT, INSERT ON public.installation_keys TO evenground_door;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.confirmed_keys TO evenground_door;
--> statement-breakpoint
SELECT public.wall_in('public.package_origins', 'group_id'), public.keep_history('public.package_origins', 'group_id', 'group_id'),
       public.wall_in('public.awaited_people', 'group_id'), public.keep_history('public.awaited_people', 'group_id', 'id');
--> statement-breakpoint
GRANT SELECT, INSERT ON public.package_origins TO evenground_member;
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.awaited_people TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.awaited_people ADD CONSTRAINT awaited_people_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
