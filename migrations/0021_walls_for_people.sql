-- Who may change who is in a group stands in the database too. A keeper changes roles and takes people out, anyone leaves by
-- themselves, and the last keeper stays: of two changes at once the second waits for the first and sees what it did. What runs
-- in neither role of the service (a migration) is not asked who it is.
CREATE FUNCTION public.is_keeper(of_group uuid) RETURNS boolean LANGUAGE sql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS
$$ SELECT EXISTS (SELECT FROM members m WHERE m.group_id = of_group AND m.person_id = current_person() AND m.role = 'keeper') $$;
--> statement-breakpoint
REVOKE ALL ON FUNCTION public.is_keeper(uuid) FROM PUBLIC;
--> statement-breakpoint
CREATE FUNCTION public.guard_members() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  may boolean;
BEGIN
  IF TG_OP = 'INSERT' THEN
    -- The first of a new group is who makes it; whoever comes later comes by an invitation that this transaction used.
    may := CASE current_setting('role')
      WHEN 'evenground_member' THEN NEW.person_id = current_person() AND NOT EXISTS (SELECT FROM members m WHERE m.group_id = NEW.group_id)
      WHEN 'evenground_door' THEN EXISTS (SELECT FROM invitations i WHERE i.group_id = NEW.group_id AND i.role = NEW.role
        AND i.used_by = NEW.person_id AND i.used_at = now())
      ELSE true END;
  ELSE
    -- Each write of a group holds its counter until it ends; a change of members takes it first.
    PERFORM FROM group_counters c WHERE c.group_id = OLD.group_id FOR UPDATE;
    may := current_setting('role') NOT IN ('evenground_member', 'evenground_door') OR is_keeper(OLD.group_id)
      OR (TG_OP = 'DELETE' AND OLD.person_id = current_person());
  END IF;
  IF may IS NOT TRUE THEN
    RAISE EXCEPTION 'only keepers change who is in a group' USING ERRCODE = 'check_violation', CONSTRAINT = 'members_are_changed_by_keepers';
  END IF;
  RETURN CASE TG_OP WHEN 'DELETE' THEN OLD ELSE NEW END;
END $$;
--> statement-breakpoint
CREATE TRIGGER members_are_changed_by_keepers BEFORE INSERT OR UPDATE OR DELETE ON public.members
  FOR EACH ROW EXECUTE FUNCTION public.guard_members();
--> statement-breakpoint
CREATE FUNCTION public.keep_a_keeper() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF NOT EXISTS (SELECT FROM members m WHERE m.group_id = OLD.group_id AND m.role = 'keeper') THEN
    RAISE EXCEPTION 'a group keeps a keeper' USING ERRCODE = 'check_violation', CONSTRAINT = 'group_keeps_a_keeper';
  END IF;
  RETURN NULL;
END $$;
--> statement-breakpoint
CREATE TRIGGER members_keep_a_keeper AFTER UPDATE OR DELETE ON public.members
  FOR EACH ROW WHEN (OLD.role = 'keeper') EXECUTE FUNCTION public.keep_a_keeper();
--> statement-breakpoint
REVOKE UPDATE ON public.members FROM evenground_member;
--> statement-breakpoint
GRANT UPDATE (role), DELETE ON public.members TO evenground_member;
--> statement-breakpoint
GRANT DELETE ON public.members TO evenground_door;
--> statement-breakpoint
CREATE FUNCTION public.guard_invitations() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
BEGIN
  IF current_setting('role') = 'evenground_member' AND NOT is_keeper(NEW.group_id) THEN
    RAISE EXCEPTION 'only keepers invite' USING ERRCODE = 'check_violation', CONSTRAINT = 'invitations_are_made_by_keepers';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER invitations_are_made_by_keepers BEFORE INSERT OR UPDATE ON public.invitations
  FOR EACH ROW EXECUTE FUNCTION public.guard_invitations();
--> statement-breakpoint
UPDATE public.invitations SET taken = 1 WHERE used_at IS NOT NULL;
--> statement-breakpoint
-- An invitation is history as a member is: who made it, who came in by it, who ended it.
SELECT public.keep_history('public.invitations', 'group_id', 'id');
--> statement-breakpoint
ALTER TABLE public.password_resets ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY door ON public.password_resets TO evenground_door USING (true);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.password_resets TO evenground_door;
