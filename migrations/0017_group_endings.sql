-- A group that its keeper asked to delete, until it is called back or its day comes.
CREATE TABLE "group_endings" (
	"group_id" uuid PRIMARY KEY NOT NULL,
	"asked_by" uuid NOT NULL,
	"asked_at" timestamp with time zone DEFAULT now() NOT NULL,
	"ends_at" timestamp with time zone NOT NULL,
	"reason" text NOT NULL,
	"called_back_at" timestamp with time zone
);
--> statement-breakpoint
ALTER TABLE "group_endings" ADD CONSTRAINT "group_endings_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "group_endings" ADD CONSTRAINT "group_endings_asked_by_people_id_fk" FOREIGN KEY ("asked_by") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;