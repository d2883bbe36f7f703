-- The rows that a file's lines become wait with it where all of them were right: what is confirmed while nothing has changed is
-- stored as it was read.
ALTER TABLE "waiting_files" ADD COLUMN "right_rows" "bytea";--> statement-breakpoint
ALTER TABLE "waiting_files" ADD COLUMN "read_against" text;--> statement-breakpoint
-- They take room too.
CREATE OR REPLACE FUNCTION public.room_for_waiting_file(bytes bigint, most bigint) RETURNS boolean
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  DELETE FROM waiting_files WHERE worked_at <= now() - interval '1 hour';
  WHILE bytes + (SELECT coalesce(sum(octet_length(w.contents) + coalesce(octet_length(w.right_rows), 0)), 0)
      FROM waiting_files w) > most LOOP
    DELETE FROM waiting_files w WHERE (w.group_id, w.id) IN (SELECT o.group_id, o.id FROM waiting_files o
      WHERE o.state NOT IN ('reading', 'storing') AND octet_length(o.contents) > 0 ORDER BY o.created_at, o.id LIMIT 1);
    IF NOT FOUND THEN
      RETURN false;
    END IF;
  END LOOP;
  RETURN true;
END $$;
