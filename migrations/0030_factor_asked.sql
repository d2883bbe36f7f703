-- A group may open only to who has shown more than a password. Only keepers ask for it and take it back, also in the database.
ALTER TABLE "groups" ADD COLUMN "asks_factor" integer DEFAULT 0 NOT NULL;
--> statement-breakpoint
CREATE FUNCTION public.guard_asking() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF current_setting('role') IN ('evenground_member', 'evenground_door') AND NOT is_keeper(NEW.id) THEN
    RAISE EXCEPTION 'only keepers ask for a second factor' USING ERRCODE = 'check_violation', CONSTRAINT = 'factors_are_asked_by_keepers';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER factors_are_asked_by_keepers BEFORE UPDATE ON public.groups
  FOR EACH ROW WHEN (OLD.asks_factor IS DISTINCT FROM NEW.asks_factor) EXECUTE FUNCTION public.guard_asking();
