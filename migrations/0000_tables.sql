CREATE TABLE "changes" (
	"group_id" uuid NOT NULL,
	"number" bigint NOT NULL,
	"table_name" text NOT NULL,
	"row_id" text NOT NULL,
	"person_id" uuid,
	"changed_at" timestamp with time zone DEFAULT now() NOT NULL,
	"reason" text,
	"before" jsonb,
	"after" jsonb,
	CONSTRAINT "changes_group_id_number_pk" PRIMARY KEY("group_id","number")
);
--> statement-breakpoint
CREATE TABLE "group_counters" (
	"group_id" uuid PRIMARY KEY NOT NULL,
	"changes" bigint DEFAULT 0 NOT NULL
);
--> statement-breakpoint
CREATE TABLE "groups" (
	"id" uuid PRIMARY KEY NOT NULL,
	"slug" text NOT NULL,
	"name" text NOT NULL,
	"currency" text NOT NULL,
	"time_zone" text NOT NULL,
	"locale" text NOT NULL,
	"weight_unit" text DEFAULT 'kg' NOT NULL,
	"area_unit" text DEFAULT 'm2' NOT NULL,
	"labour_rate_minor_per_hour" bigint,
	"is_demo" integer DEFAULT 0 NOT NULL,
	"version" integer DEFAULT 1 NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "groups_currency_is_iso_4217" CHECK ("groups"."currency" ~ '^[A-Z]{3}$'),
	CONSTRAINT "groups_weight_unit_is_known" CHECK ("groups"."weight_unit" in ('kg', 'lb')),
	CONSTRAINT "groups_area_unit_is_known" CHECK ("groups"."area_unit" in ('m2', 'ft2'))
);
--> statement-breakpoint
CREATE TABLE "half_sign_ins" (
	"token_hash" text PRIMARY KEY NOT NULL,
	"person_id" uuid NOT NULL,
	"expires_at" timestamp with time zone NOT NULL
);
--> statement-breakpoint
CREATE TABLE "invitations" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"token_hash" text NOT NULL,
	"role" text NOT NULL,
	"created_by" uuid,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"used_at" timestamp with time zone,
	"used_by" uuid,
	"places" integer DEFAULT 1 NOT NULL,
	"taken" integer DEFAULT 0 NOT NULL,
	"ended_at" timestamp with time zone,
	CONSTRAINT "invitations_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "invitations_role_is_known" CHECK ("invitations"."role" in ('keeper', 'recorder', 'reader')),
	CONSTRAINT "invitations_let_in_as_many_as_said" CHECK ("invitations"."places" between 1 and 50 and "invitations"."taken" between 0 and "invitations"."places")
);
--> statement-breakpoint
CREATE TABLE "members" (
	"group_id" uuid NOT NULL,
	"person_id" uuid NOT NULL,
	"role" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "members_group_id_person_id_pk" PRIMARY KEY("group_id","person_id"),
	CONSTRAINT "members_role_is_known" CHECK ("members"."role" in ('keeper', 'recorder', 'reader'))
);
--> statement-breakpoint
CREATE TABLE "password_resets" (
	"person_id" uuid PRIMARY KEY NOT NULL,
	"token_hash" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"expires_at" timestamp with time zone NOT NULL
);
--> statement-breakpoint
CREATE TABLE "people" (
	"id" uuid PRIMARY KEY NOT NULL,
	"email" text NOT NULL,
	"name" text NOT NULL,
	"password_hash" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"gone_at" timestamp with time zone,
	CONSTRAINT "people_email_is_lower_case" CHECK ("people"."email" = lower("people"."email")),
	CONSTRAINT "people_gone_are_nobody" CHECK ("people"."gone_at" is null or ("people"."name" = '' and "people"."password_hash" = ''))
);
--> statement-breakpoint
CREATE TABLE "rate_limits" (
	"key" text PRIMARY KEY NOT NULL,
	"window_started_at" timestamp with time zone NOT NULL,
	"attempts" integer NOT NULL
);
--> statement-breakpoint
CREATE TABLE "recovery_codes" (
	"person_id" uuid NOT NULL,
	"code_hash" text NOT NULL,
	CONSTRAINT "recovery_codes_person_id_code_hash_pk" PRIMARY KEY("person_id","code_hash")
);
--> statement-breakpoint
CREATE TABLE "second_steps" (
	"person_id" uuid PRIMARY KEY NOT NULL,
	"secret" text NOT NULL,
	"confirmed_at" timestamp with time zone,
	"last_step" bigint DEFAULT 0 NOT NULL
);
--> statement-breakpoint
CREATE TABLE "sessions" (
	"token_hash" text PRIMARY KEY NOT NULL,
	"person_id" uuid NOT NULL,
	"expires_at" timestamp with time zone NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"id" uuid DEFAULT gen_random_uuid() NOT NULL,
	"last_used_at" timestamp with time zone DEFAULT now() NOT NULL,
	"browser" text,
	"system" text
);
--> statement-breakpoint
CREATE TABLE "decisions" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"decided_on" date NOT NULL,
	"decision" text NOT NULL,
	"finding" text NOT NULL,
	"expected" text NOT NULL,
	"look_again_on" date,
	"happened" text,
	CONSTRAINT "decisions_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "containers" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"tare_g" integer NOT NULL,
	CONSTRAINT "containers_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "containers_tare_is_not_negative" CHECK ("containers"."tare_g" >= 0)
);
--> statement-breakpoint
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
CREATE TABLE "harvest_shares" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"harvest_id" uuid NOT NULL,
	"planting_id" uuid NOT NULL,
	"share" integer,
	CONSTRAINT "harvest_shares_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "harvest_shares_share_is_not_negative" CHECK ("harvest_shares"."share" >= 0)
);
--> statement-breakpoint
CREATE TABLE "harvests" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"planting_id" uuid,
	"share_rule" text,
	"harvested_on" date NOT NULL,
	"iso_week" text NOT NULL,
	"marketable_g" integer DEFAULT 0 NOT NULL,
	"unmarketable_g" integer DEFAULT 0 NOT NULL,
	"unmarketable_reason" text,
	"pieces" integer,
	"gross_g" integer,
	"container_id" uuid,
	"source" text DEFAULT 'field' NOT NULL,
	CONSTRAINT "harvests_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "harvests_weights_are_not_negative" CHECK ("harvests"."marketable_g" >= 0 and "harvests"."unmarketable_g" >= 0),
	CONSTRAINT "harvests_unmarketable_has_reason" CHECK ("harvests"."unmarketable_g" = 0 or "harvests"."unmarketable_reason" is not null),
	CONSTRAINT "harvests_planting_or_shared" CHECK (("harvests"."planting_id" is null) <> ("harvests"."share_rule" is null)),
	CONSTRAINT "harvests_share_rule_is_known" CHECK ("harvests"."share_rule" in ('area', 'plants', 'given'))
);
--> statement-breakpoint
CREATE TABLE "labour_entries" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"iso_week" text NOT NULL,
	"worked_on" date,
	"task" text NOT NULL,
	"phase" text NOT NULL,
	"person_minutes" integer NOT NULL,
	"people" integer DEFAULT 1 NOT NULL,
	"effort" integer,
	"garden_id" uuid,
	"bed_id" uuid,
	"planting_id" uuid,
	"share_rule" text,
	"who" text,
	"source" text DEFAULT 'field' NOT NULL,
	"delivery_id" uuid,
	CONSTRAINT "labour_entries_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "labour_entries_minutes_are_positive" CHECK ("labour_entries"."person_minutes" > 0 and "labour_entries"."people" > 0),
	CONSTRAINT "labour_entries_one_place" CHECK (num_nonnulls("labour_entries"."garden_id", "labour_entries"."bed_id", "labour_entries"."planting_id", "labour_entries"."share_rule") = 1),
	CONSTRAINT "labour_entries_phase_is_known" CHECK ("labour_entries"."phase" in ('establishing', 'established')),
	CONSTRAINT "labour_entries_effort_is_known" CHECK ("labour_entries"."effort" between 1 and 5),
	CONSTRAINT "labour_entries_share_rule_is_known" CHECK ("labour_entries"."share_rule" in ('area', 'equal', 'given')),
	CONSTRAINT "labour_entries_source_is_known" CHECK ("labour_entries"."source" in ('field', 'paper'))
);
--> statement-breakpoint
CREATE TABLE "labour_shares" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"labour_entry_id" uuid NOT NULL,
	"garden_id" uuid NOT NULL,
	"share" integer,
	CONSTRAINT "labour_shares_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "labour_shares_share_is_not_negative" CHECK ("labour_shares"."share" >= 0)
);
--> statement-breakpoint
CREATE TABLE "losses" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"planting_id" uuid NOT NULL,
	"lost_on" date NOT NULL,
	"iso_week" text NOT NULL,
	"share_permille" integer NOT NULL,
	"cause" text NOT NULL,
	"outside_method" integer DEFAULT 0 NOT NULL,
	"also_next_door" text,
	"note" text,
	CONSTRAINT "losses_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "losses_share_is_a_part" CHECK ("losses"."share_permille" between 1 and 1000),
	CONSTRAINT "losses_cause_is_known" CHECK ("losses"."cause" in ('pest', 'disease', 'weather', 'weeds', 'germination', 'water', 'animals', 'people', 'seed', 'unknown')),
	CONSTRAINT "losses_next_door_is_known" CHECK ("losses"."also_next_door" in ('yes', 'no', 'not grown'))
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
CREATE TABLE "week_closings" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"iso_week" text NOT NULL,
	"what" text NOT NULL,
	"closed_at" timestamp with time zone DEFAULT now() NOT NULL,
	"reopened_at" timestamp with time zone,
	"reopened_reason" text,
	CONSTRAINT "week_closings_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "week_closings_what_is_known" CHECK ("week_closings"."what" in ('hours', 'weights')),
	CONSTRAINT "week_closings_reopened_with_reason" CHECK (("week_closings"."reopened_at" is null) = ("week_closings"."reopened_reason" is null))
);
--> statement-breakpoint
CREATE TABLE "bed_closures" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"bed_id" uuid NOT NULL,
	"from_day" date NOT NULL,
	"to_day" date,
	"why" text NOT NULL,
	"material" text,
	"regrowth" text,
	"regrowth_after_4_weeks" integer,
	"regrowth_after_8_weeks" integer,
	"regrowth_after_12_weeks" integer,
	CONSTRAINT "bed_closures_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "bed_closures_end_after_start" CHECK ("bed_closures"."to_day" is null or "bed_closures"."to_day" >= "bed_closures"."from_day"),
	CONSTRAINT "bed_closures_regrowth_is_not_negative" CHECK ("bed_closures"."regrowth_after_4_weeks" >= 0 and "bed_closures"."regrowth_after_8_weeks" >= 0 and "bed_closures"."regrowth_after_12_weeks" >= 0)
);
--> statement-breakpoint
CREATE TABLE "beds" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"block_id" uuid,
	"name" text NOT NULL,
	"area_cm2" integer NOT NULL,
	"position" integer DEFAULT 0 NOT NULL,
	CONSTRAINT "beds_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "beds_area_is_positive" CHECK ("beds"."area_cm2" > 0)
);
--> statement-breakpoint
CREATE TABLE "blocks" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"site_id" uuid NOT NULL,
	"name" text NOT NULL,
	"notes" text,
	CONSTRAINT "blocks_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "gardens" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"site_id" uuid NOT NULL,
	"name" text NOT NULL,
	"gross_area_cm2" integer NOT NULL,
	"exposure" text,
	"soil" text,
	"ground_before" text,
	"water_distance_mm" integer,
	"compost_distance_mm" integer,
	"position" integer DEFAULT 0 NOT NULL,
	CONSTRAINT "gardens_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "gardens_gross_area_is_positive" CHECK ("gardens"."gross_area_cm2" > 0)
);
--> statement-breakpoint
CREATE TABLE "methods" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"working_rules" text DEFAULT '' NOT NULL,
	"colour_index" integer DEFAULT 0 NOT NULL,
	"position" integer DEFAULT 0 NOT NULL,
	"establishing_seasons" integer,
	CONSTRAINT "methods_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "methods_establishing_is_spread" CHECK ("methods"."establishing_seasons" between 1 and 100)
);
--> statement-breakpoint
CREATE TABLE "sites" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"soil" text,
	"exposure" text,
	"notes" text,
	CONSTRAINT "sites_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "applications" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"delivery_id" uuid NOT NULL,
	"garden_id" uuid,
	"bed_id" uuid,
	"planting_id" uuid,
	"applied_on" date NOT NULL,
	"quantity_thousandths" integer NOT NULL,
	"depth_mm" integer,
	"phase" text NOT NULL,
	CONSTRAINT "applications_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "applications_quantity_is_positive" CHECK ("applications"."quantity_thousandths" > 0),
	CONSTRAINT "applications_depth_is_positive" CHECK ("applications"."depth_mm" > 0),
	CONSTRAINT "applications_one_place" CHECK (num_nonnulls("applications"."garden_id", "applications"."bed_id", "applications"."planting_id") = 1),
	CONSTRAINT "applications_phase_is_known" CHECK ("applications"."phase" in ('establishing', 'established'))
);
--> statement-breakpoint
CREATE TABLE "deliveries" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"input_id" uuid NOT NULL,
	"ordered_on" date,
	"delivered_on" date,
	"quantity_thousandths" integer NOT NULL,
	"price_minor" bigint,
	"delivery_price_minor" bigint DEFAULT 0 NOT NULL,
	"supplier" text,
	"note" text,
	CONSTRAINT "deliveries_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "deliveries_quantity_is_positive" CHECK ("deliveries"."quantity_thousandths" > 0),
	CONSTRAINT "deliveries_ordered_or_come" CHECK (num_nonnulls("deliveries"."ordered_on", "deliveries"."delivered_on") > 0),
	CONSTRAINT "deliveries_come_after_the_order" CHECK ("deliveries"."delivered_on" >= "deliveries"."ordered_on"),
	CONSTRAINT "deliveries_prices_are_not_negative" CHECK ("deliveries"."price_minor" >= 0 and "deliveries"."delivery_price_minor" >= 0)
);
--> statement-breakpoint
CREATE TABLE "inputs" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"kind" text NOT NULL,
	"unit" text NOT NULL,
	"useful_life_seasons" integer DEFAULT 1 NOT NULL,
	"own_made" integer DEFAULT 0 NOT NULL,
	"raw_manure" integer DEFAULT 0 NOT NULL,
	"moisture_permille" integer,
	"density_kg_per_m3" integer,
	"nitrogen_mg_per_kg" integer,
	"phosphorus_mg_per_kg" integer,
	"potassium_mg_per_kg" integer,
	"source" text,
	CONSTRAINT "inputs_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "inputs_life_is_positive" CHECK ("inputs"."useful_life_seasons" between 1 and 100),
	CONSTRAINT "inputs_manure_is_known" CHECK ("inputs"."raw_manure" between 0 and 2),
	CONSTRAINT "inputs_moisture_is_a_part" CHECK ("inputs"."moisture_permille" between 0 and 1000),
	CONSTRAINT "inputs_density_is_positive" CHECK ("inputs"."density_kg_per_m3" > 0)
);
--> statement-breakpoint
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
CREATE TABLE "stocks" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"input_id" uuid NOT NULL,
	"name" text NOT NULL,
	"started_on" date NOT NULL,
	"ready_on" date,
	"log" jsonb DEFAULT '[]'::jsonb NOT NULL,
	CONSTRAINT "stocks_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "stocks_ready_after_start" CHECK ("stocks"."ready_on" >= "stocks"."started_on")
);
--> statement-breakpoint
CREATE TABLE "counts" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"bed_id" uuid,
	"planting_id" uuid,
	"counted_on" date NOT NULL,
	"what" text NOT NULL,
	"method" text NOT NULL,
	"value" numeric NOT NULL,
	"out_of" numeric,
	"unit" text NOT NULL,
	CONSTRAINT "counts_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "field_notes" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"bed_id" uuid,
	"planting_id" uuid,
	"seen_on" date NOT NULL,
	"kind" text NOT NULL,
	"words" text NOT NULL,
	"severity" integer,
	"area_cm2" integer,
	CONSTRAINT "field_notes_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "field_notes_kind_is_known" CHECK ("field_notes"."kind" in ('weed', 'pest', 'disease', 'germination', 'weather', 'soil', 'other')),
	CONSTRAINT "field_notes_severity_is_known" CHECK ("field_notes"."severity" between 0 and 5)
);
--> statement-breakpoint
CREATE TABLE "weather_days" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"station" text NOT NULL,
	"day" date NOT NULL,
	"minimum_tenths_c" integer,
	"maximum_tenths_c" integer,
	"rain_tenths_mm" integer,
	CONSTRAINT "weather_days_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "weather_days_minimum_below_maximum" CHECK ("weather_days"."minimum_tenths_c" <= "weather_days"."maximum_tenths_c"),
	CONSTRAINT "weather_days_rain_is_not_negative" CHECK ("weather_days"."rain_tenths_mm" >= 0)
);
--> statement-breakpoint
CREATE TABLE "weed_patches" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"garden_id" uuid NOT NULL,
	"bed_id" uuid,
	"planting_id" uuid,
	"seen_on" date NOT NULL,
	"species" text NOT NULL,
	"area_cm2" integer,
	"shoots_per_m2" integer,
	"position" text,
	"cover_permille" integer,
	CONSTRAINT "weed_patches_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "weed_patches_cover_is_a_share" CHECK ("weed_patches"."cover_permille" between 0 and 1000),
	CONSTRAINT "weed_patches_are_measured" CHECK (num_nonnulls("weed_patches"."area_cm2", "weed_patches"."cover_permille") > 0)
);
--> statement-breakpoint
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
CREATE TABLE "reports" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"title" text NOT NULL,
	"words" text DEFAULT '' NOT NULL,
	"contents" jsonb,
	"schema_version" integer NOT NULL,
	"checksum" text,
	"frozen_at" timestamp with time zone,
	"state" text DEFAULT 'frozen' NOT NULL,
	"keeps" text DEFAULT 'frozen' NOT NULL,
	"season" text DEFAULT 'all' NOT NULL,
	"sections" jsonb DEFAULT '[]'::jsonb NOT NULL,
	"rows_agreed" integer DEFAULT 0 NOT NULL,
	"first_id" uuid,
	"edition" integer DEFAULT 1 NOT NULL,
	"rows" jsonb,
	"data_cut_off" bigint,
	"service_version" text,
	"pictures" jsonb DEFAULT '[]'::jsonb NOT NULL,
	CONSTRAINT "reports_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "reports_state_is_known" CHECK ("reports"."state" in ('draft', 'live', 'frozen')),
	CONSTRAINT "reports_keeps_is_known" CHECK ("reports"."keeps" in ('live', 'frozen')),
	CONSTRAINT "reports_frozen_is_whole" CHECK ("reports"."state" <> 'frozen' or num_nonnulls("reports"."contents", "reports"."checksum", "reports"."frozen_at") = 3)
);
--> statement-breakpoint
CREATE TABLE "share_links" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"report_id" uuid NOT NULL,
	"token_hash" text NOT NULL,
	"ends_at" timestamp with time zone,
	"revoked_at" timestamp with time zone,
	"passphrase_hash" text,
	CONSTRAINT "share_links_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "crops" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"family" text,
	"edible_unit" text,
	"price_minor_per_kg" bigint,
	"priced_on" date,
	"energy_kcal_per_100g" integer,
	"protein_mg_per_100g" integer,
	"phosphorus_mg_per_100g" integer,
	"potassium_mg_per_100g" integer,
	"refuse_percent" integer,
	"usual_yield_g_per_m2" integer,
	"ask_above_g_per_m2" integer,
	"source" text,
	"touches_soil" integer,
	CONSTRAINT "crops_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "crops_touch_the_soil_or_not" CHECK ("crops"."touches_soil" in (0, 1))
);
--> statement-breakpoint
CREATE TABLE "cultivars" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"crop_id" uuid NOT NULL,
	"name" text NOT NULL,
	"source" text,
	CONSTRAINT "cultivars_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "matched_sets" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"cultivar_id" uuid NOT NULL,
	"name" text NOT NULL,
	"window_from" date,
	"window_to" date,
	CONSTRAINT "matched_sets_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "method_assignments" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"garden_id" uuid NOT NULL,
	"bed_id" uuid,
	"method_id" uuid NOT NULL,
	"phase" text NOT NULL,
	"year_of_method" integer DEFAULT 1 NOT NULL,
	"how" text NOT NULL,
	"random_seed" text,
	CONSTRAINT "method_assignments_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "method_assignments_phase_is_known" CHECK ("method_assignments"."phase" in ('establishing', 'established')),
	CONSTRAINT "method_assignments_how_is_known" CHECK ("method_assignments"."how" in ('choice', 'random', 'rotation')),
	CONSTRAINT "method_assignments_random_has_seed" CHECK ("method_assignments"."how" <> 'random' or "method_assignments"."random_seed" is not null)
);
--> statement-breakpoint
CREATE TABLE "plantings" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"bed_id" uuid NOT NULL,
	"cultivar_id" uuid NOT NULL,
	"matched_set_id" uuid,
	"area_cm2" integer NOT NULL,
	"plants" integer,
	"purpose" text DEFAULT 'harvest' NOT NULL,
	"how" text DEFAULT 'direct' NOT NULL,
	"sown_on" date,
	"planted_on" date,
	"cleared_on" date,
	"interplanted" integer DEFAULT 0 NOT NULL,
	"spacing" text,
	"seed_lot" text,
	"stands_until" date,
	CONSTRAINT "plantings_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "plantings_area_is_positive" CHECK ("plantings"."area_cm2" > 0),
	CONSTRAINT "plantings_purpose_is_known" CHECK ("plantings"."purpose" in ('harvest', 'green manure', 'seed', 'guard row')),
	CONSTRAINT "plantings_how_is_known" CHECK ("plantings"."how" in ('direct', 'transplanted')),
	CONSTRAINT "plantings_are_sown_or_planted" CHECK (coalesce("plantings"."sown_on", "plantings"."planted_on") is not null),
	CONSTRAINT "plantings_planted_after_sown" CHECK ("plantings"."planted_on" >= "plantings"."sown_on"),
	CONSTRAINT "plantings_stand_after_sown" CHECK ("plantings"."stands_until" >= coalesce("plantings"."sown_on", "plantings"."planted_on")),
	CONSTRAINT "plantings_cleared_after_sown" CHECK ("plantings"."cleared_on" >= coalesce("plantings"."sown_on", "plantings"."planted_on"))
);
--> statement-breakpoint
CREATE TABLE "season_questions" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"season_id" uuid NOT NULL,
	"question" text NOT NULL,
	"reference_method_id" uuid,
	"primary_measure" text NOT NULL,
	"terms" jsonb NOT NULL,
	"margin_percent" integer,
	"seasons_to_look_at" integer NOT NULL,
	"sentence_if_seen" text NOT NULL,
	"sentence_if_not_seen" text NOT NULL,
	"locked_at" timestamp with time zone,
	CONSTRAINT "season_questions_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
CREATE TABLE "seasons" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"name" text NOT NULL,
	"starts_on" date NOT NULL,
	"ends_on" date NOT NULL,
	"closed_at" timestamp with time zone,
	"closed_by" uuid,
	"is_uniform_year" integer DEFAULT 0 NOT NULL,
	CONSTRAINT "seasons_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "seasons_end_after_start" CHECK ("seasons"."ends_on" > "seasons"."starts_on")
);
--> statement-breakpoint
CREATE TABLE "soil_tests" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"created_by" uuid,
	"version" integer DEFAULT 1 NOT NULL,
	"removed_at" timestamp with time zone,
	"removed_reason" text,
	"site_id" uuid NOT NULL,
	"garden_id" uuid,
	"bed_id" uuid,
	"sampled_on" date NOT NULL,
	"laboratory" text NOT NULL,
	"extractant" text,
	"analyte" text NOT NULL,
	"value" numeric NOT NULL,
	"unit" text NOT NULL,
	"depth_mm" integer,
	"bands" jsonb,
	CONSTRAINT "soil_tests_group_id_id_pk" PRIMARY KEY("group_id","id")
);
--> statement-breakpoint
ALTER TABLE "group_counters" ADD CONSTRAINT "group_counters_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "half_sign_ins" ADD CONSTRAINT "half_sign_ins_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_created_by_people_id_fk" FOREIGN KEY ("created_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "invitations" ADD CONSTRAINT "invitations_used_by_people_id_fk" FOREIGN KEY ("used_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "members" ADD CONSTRAINT "members_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "members" ADD CONSTRAINT "members_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "password_resets" ADD CONSTRAINT "password_resets_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "recovery_codes" ADD CONSTRAINT "recovery_codes_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "second_steps" ADD CONSTRAINT "second_steps_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "sessions" ADD CONSTRAINT "sessions_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "crate_labels" ADD CONSTRAINT "crate_labels_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvest_shares" ADD CONSTRAINT "harvest_shares_harvest" FOREIGN KEY ("group_id","harvest_id") REFERENCES "public"."harvests"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvest_shares" ADD CONSTRAINT "harvest_shares_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "harvests" ADD CONSTRAINT "harvests_container" FOREIGN KEY ("group_id","container_id") REFERENCES "public"."containers"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_entries" ADD CONSTRAINT "labour_entries_delivery" FOREIGN KEY ("group_id","delivery_id") REFERENCES "public"."deliveries"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_shares" ADD CONSTRAINT "labour_shares_entry" FOREIGN KEY ("group_id","labour_entry_id") REFERENCES "public"."labour_entries"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "labour_shares" ADD CONSTRAINT "labour_shares_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "losses" ADD CONSTRAINT "losses_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "second_readings" ADD CONSTRAINT "second_readings_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "week_closings" ADD CONSTRAINT "week_closings_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "bed_closures" ADD CONSTRAINT "bed_closures_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "beds" ADD CONSTRAINT "beds_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "beds" ADD CONSTRAINT "beds_block" FOREIGN KEY ("group_id","block_id") REFERENCES "public"."blocks"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "blocks" ADD CONSTRAINT "blocks_site" FOREIGN KEY ("group_id","site_id") REFERENCES "public"."sites"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "gardens" ADD CONSTRAINT "gardens_site" FOREIGN KEY ("group_id","site_id") REFERENCES "public"."sites"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_delivery" FOREIGN KEY ("group_id","delivery_id") REFERENCES "public"."deliveries"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "applications" ADD CONSTRAINT "applications_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_input" FOREIGN KEY ("group_id","input_id") REFERENCES "public"."inputs"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stocks" ADD CONSTRAINT "stocks_input" FOREIGN KEY ("group_id","input_id") REFERENCES "public"."inputs"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "counts" ADD CONSTRAINT "counts_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "counts" ADD CONSTRAINT "counts_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "counts" ADD CONSTRAINT "counts_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "field_notes" ADD CONSTRAINT "field_notes_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "field_notes" ADD CONSTRAINT "field_notes_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "field_notes" ADD CONSTRAINT "field_notes_planting" FOREIGN KEY ("group_id","planting_id") REFERENCES "public"."plantings"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "weed_patches" ADD CONSTRAINT "weed_patches_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "weed_patches" ADD CONSTRAINT "weed_patches_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "picture_bytes" ADD CONSTRAINT "picture_bytes_picture" FOREIGN KEY ("group_id","id") REFERENCES "public"."pictures"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "pictures" ADD CONSTRAINT "pictures_note" FOREIGN KEY ("group_id","note_id") REFERENCES "public"."field_notes"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_method" FOREIGN KEY ("group_id","method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "guesses" ADD CONSTRAINT "guesses_reference" FOREIGN KEY ("group_id","reference_method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "link_openings" ADD CONSTRAINT "link_openings_link" FOREIGN KEY ("group_id","link_id") REFERENCES "public"."share_links"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "share_links" ADD CONSTRAINT "share_links_report" FOREIGN KEY ("group_id","report_id") REFERENCES "public"."reports"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "cultivars" ADD CONSTRAINT "cultivars_crop" FOREIGN KEY ("group_id","crop_id") REFERENCES "public"."crops"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "matched_sets" ADD CONSTRAINT "matched_sets_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "matched_sets" ADD CONSTRAINT "matched_sets_cultivar" FOREIGN KEY ("group_id","cultivar_id") REFERENCES "public"."cultivars"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "method_assignments" ADD CONSTRAINT "method_assignments_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "method_assignments" ADD CONSTRAINT "method_assignments_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "method_assignments" ADD CONSTRAINT "method_assignments_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "method_assignments" ADD CONSTRAINT "method_assignments_method" FOREIGN KEY ("group_id","method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_cultivar" FOREIGN KEY ("group_id","cultivar_id") REFERENCES "public"."cultivars"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "plantings" ADD CONSTRAINT "plantings_matched_set" FOREIGN KEY ("group_id","matched_set_id") REFERENCES "public"."matched_sets"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "season_questions" ADD CONSTRAINT "season_questions_season" FOREIGN KEY ("group_id","season_id") REFERENCES "public"."seasons"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "season_questions" ADD CONSTRAINT "season_questions_method" FOREIGN KEY ("group_id","reference_method_id") REFERENCES "public"."methods"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD CONSTRAINT "soil_tests_site" FOREIGN KEY ("group_id","site_id") REFERENCES "public"."sites"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD CONSTRAINT "soil_tests_garden" FOREIGN KEY ("group_id","garden_id") REFERENCES "public"."gardens"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "soil_tests" ADD CONSTRAINT "soil_tests_bed" FOREIGN KEY ("group_id","bed_id") REFERENCES "public"."beds"("group_id","id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "changes_by_row" ON "changes" USING btree ("group_id","table_name","row_id");--> statement-breakpoint
CREATE UNIQUE INDEX "groups_slug_is_taken" ON "groups" USING btree ("slug");--> statement-breakpoint
CREATE UNIQUE INDEX "invitations_token_is_unique" ON "invitations" USING btree ("token_hash");--> statement-breakpoint
CREATE INDEX "members_by_person" ON "members" USING btree ("person_id");--> statement-breakpoint
CREATE UNIQUE INDEX "password_resets_token_is_unique" ON "password_resets" USING btree ("token_hash");--> statement-breakpoint
CREATE UNIQUE INDEX "people_email_is_taken" ON "people" USING btree ("email");--> statement-breakpoint
CREATE INDEX "sessions_by_expiry" ON "sessions" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "sessions_by_person" ON "sessions" USING btree ("person_id");--> statement-breakpoint
CREATE UNIQUE INDEX "containers_name_is_taken" ON "containers" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "crate_labels_label_is_taken" ON "crate_labels" USING btree ("group_id","iso_week","label") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "crate_labels_planting_once" ON "crate_labels" USING btree ("group_id","iso_week","planting_id") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "harvest_shares_planting_once" ON "harvest_shares" USING btree ("group_id","harvest_id","planting_id") WHERE removed_at is null;--> statement-breakpoint
CREATE INDEX "harvests_by_week" ON "harvests" USING btree ("group_id","iso_week");--> statement-breakpoint
CREATE INDEX "harvests_by_planting" ON "harvests" USING btree ("group_id","planting_id");--> statement-breakpoint
CREATE INDEX "labour_entries_by_week" ON "labour_entries" USING btree ("group_id","iso_week");--> statement-breakpoint
CREATE UNIQUE INDEX "labour_shares_garden_once" ON "labour_shares" USING btree ("group_id","labour_entry_id","garden_id") WHERE removed_at is null;--> statement-breakpoint
CREATE INDEX "losses_by_planting" ON "losses" USING btree ("group_id","planting_id");--> statement-breakpoint
CREATE UNIQUE INDEX "second_readings_planting_once" ON "second_readings" USING btree ("group_id","iso_week","planting_id") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "week_closings_closed_once" ON "week_closings" USING btree ("group_id","garden_id","iso_week","what") WHERE reopened_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "beds_name_is_taken" ON "beds" USING btree ("group_id","garden_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "gardens_name_is_taken" ON "gardens" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "methods_name_is_taken" ON "methods" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "sites_name_is_taken" ON "sites" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE INDEX "applications_by_season" ON "applications" USING btree ("group_id","season_id");--> statement-breakpoint
CREATE UNIQUE INDEX "inputs_name_is_taken" ON "inputs" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "measures_name_is_taken" ON "measures" USING btree ("group_id",lower("name")) WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "weather_days_day_once" ON "weather_days" USING btree ("group_id","station","day") WHERE removed_at is null;--> statement-breakpoint
CREATE INDEX "pictures_by_note" ON "pictures" USING btree ("group_id","note_id");--> statement-breakpoint
CREATE UNIQUE INDEX "guesses_one_a_person_and_season" ON "guesses" USING btree ("group_id","season_id","person_id","method_id");--> statement-breakpoint
CREATE UNIQUE INDEX "link_openings_day_once" ON "link_openings" USING btree ("group_id","link_id","day");--> statement-breakpoint
CREATE UNIQUE INDEX "name_agreements_person_once" ON "name_agreements" USING btree ("group_id","person_id");--> statement-breakpoint
CREATE UNIQUE INDEX "reports_edition_once" ON "reports" USING btree ("group_id","first_id","edition") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "share_links_token_is_unique" ON "share_links" USING btree ("token_hash");--> statement-breakpoint
CREATE INDEX "share_links_by_report" ON "share_links" USING btree ("group_id","report_id");--> statement-breakpoint
CREATE UNIQUE INDEX "crops_name_is_taken" ON "crops" USING btree ("group_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "cultivars_name_is_taken" ON "cultivars" USING btree ("group_id","crop_id","name") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "method_assignments_garden_has_one" ON "method_assignments" USING btree ("group_id","season_id","garden_id") WHERE bed_id is null and removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "method_assignments_bed_has_one" ON "method_assignments" USING btree ("group_id","season_id","bed_id") WHERE bed_id is not null and removed_at is null;--> statement-breakpoint
CREATE INDEX "plantings_by_season" ON "plantings" USING btree ("group_id","season_id");--> statement-breakpoint
CREATE INDEX "plantings_by_bed" ON "plantings" USING btree ("group_id","bed_id");--> statement-breakpoint
CREATE UNIQUE INDEX "season_questions_season_has_one" ON "season_questions" USING btree ("group_id","season_id") WHERE removed_at is null;--> statement-breakpoint
CREATE UNIQUE INDEX "seasons_name_is_taken" ON "seasons" USING btree ("group_id","name") WHERE removed_at is null;