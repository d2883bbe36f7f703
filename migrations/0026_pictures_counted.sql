-- How much all pictures of the installation take, which no member may count by looking at them.
CREATE FUNCTION public.picture_bytes_kept() RETURNS bigint LANGUAGE sql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS
$$ SELECT coalesce(sum(p.byte_count), 0)::bigint FROM pictures p $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.picture_bytes_kept() FROM PUBLIC;
--> statement-breakpoint
GRANT EXECUTE ON FUNCTION public.picture_bytes_kept() TO evenground_member;
