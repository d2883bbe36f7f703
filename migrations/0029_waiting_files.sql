-- Files of rows that wait to be confirmed stand in the database, so that any process can go on with them. They are no record
-- yet: no history is kept of them, and they are deleted.
CREATE TABLE "waiting_files" (
	"group_id" uuid NOT NULL,
	"id" uuid NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	"person_id" uuid,
	"kind" text NOT NULL,
	"numbers_in" text NOT NULL,
	"state" text NOT NULL,
	"run" uuid NOT NULL,
	"worked_at" timestamp with time zone DEFAULT now() NOT NULL,
	"lines" integer DEFAULT 0 NOT NULL,
	"found" json,
	"changed" integer DEFAULT 0 NOT NULL,
	"first" bigint,
	"contents" "bytea" NOT NULL,
	CONSTRAINT "waiting_files_group_id_id_pk" PRIMARY KEY("group_id","id"),
	CONSTRAINT "waiting_files_state_is_known" CHECK ("waiting_files"."state" in ('reading', 'read', 'storing', 'stored', 'failed')),
	CONSTRAINT "waiting_files_changed_or_not" CHECK ("waiting_files"."changed" in (0, 1))
);
--> statement-breakpoint
ALTER TABLE "waiting_files" ADD CONSTRAINT "waiting_files_group_id_groups_id_fk" FOREIGN KEY ("group_id") REFERENCES "public"."groups"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "waiting_files_by_work" ON "waiting_files" USING btree ("worked_at");
--> statement-breakpoint
SELECT public.wall_in('public.waiting_files', 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.waiting_files TO evenground_member;
--> statement-breakpoint
-- What all groups keep waiting is bounded, which no member may count by looking at it: whatever is past its hour goes, then
-- the oldest that nothing is done with. Answers whether there is room.
CREATE FUNCTION public.room_for_waiting_file(bytes bigint, most bigint) RETURNS boolean
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  DELETE FROM waiting_files WHERE worked_at <= now() - interval '1 hour';
  WHILE bytes + (SELECT coalesce(sum(octet_length(w.contents)), 0) FROM waiting_files w) > most LOOP
    DELETE FROM waiting_files w WHERE (w.group_id, w.id) IN (SELECT o.group_id, o.id FROM waiting_files o
      WHERE o.state NOT IN ('reading', 'storing') AND octet_length(o.contents) > 0 ORDER BY o.created_at, o.id LIMIT 1);
    IF NOT FOUND THEN
      RETURN false;
    END IF;
  END LOOP;
  RETURN true;
END $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.room_for_waiting_file(bigint, bigint) FROM PUBLIC;
--> statement-breakpoint
GRANT EXECUTE ON FUNCTION public.room_for_waiting_file(bigint, bigint) TO evenground_member;
