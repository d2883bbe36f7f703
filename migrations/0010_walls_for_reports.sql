-- The wall and the history for what reports add. Openings of a link are counted without a history: a count is nothing that
-- somebody wrote, and a history of it would keep the minute of each opening.
DO $$
DECLARE kept text;
BEGIN
  FOREACH kept IN ARRAY ARRAY['name_agreements', 'guesses', 'link_openings'] LOOP
    PERFORM public.wall_in(format('public.%I', kept)::regclass, 'group_id');
    IF kept <> 'link_openings' THEN
      PERFORM public.keep_history(format('public.%I', kept)::regclass, 'group_id', 'id');
    END IF;
    EXECUTE format('GRANT SELECT, INSERT, UPDATE ON public.%I TO evenground_member', kept);
    EXECUTE format('ALTER TABLE public.%I ADD CONSTRAINT %I FOREIGN KEY (group_id) REFERENCES public.groups (id)', kept, kept || '_group');
  END LOOP;
END $$;
--> statement-breakpoint
-- A draft changes until it is finished; of a frozen report nothing does but the mark that removes it.
DROP TRIGGER frozen_reports_never_change ON public.reports;
--> statement-breakpoint
CREATE TRIGGER frozen_reports_never_change BEFORE UPDATE ON public.reports
  FOR EACH ROW WHEN (OLD.state = 'frozen' AND
    (OLD.title, OLD.words, OLD.state, OLD.keeps, OLD.season, OLD.sections, OLD.rows_agreed, OLD.first_id, OLD.edition, OLD.contents,
     OLD.rows, OLD.schema_version, OLD.checksum, OLD.data_cut_off, OLD.service_version, OLD.frozen_at)
    IS DISTINCT FROM
    (NEW.title, NEW.words, NEW.state, NEW.keeps, NEW.season, NEW.sections, NEW.rows_agreed, NEW.first_id, NEW.edition, NEW.contents,
     NEW.rows, NEW.schema_version, NEW.checksum, NEW.data_cut_off, NEW.service_version, NEW.frozen_at))
  EXECUTE FUNCTION public.refuse_locked();
--> statement-breakpoint
-- A guess can be changed until its season is closed. A first one may come later, from somebody who has not seen the result.
CREATE FUNCTION public.refuse_late_guess() RETURNS trigger LANGUAGE plpgsql SET search_path = public, pg_temp AS $$
BEGIN
  IF EXISTS (SELECT FROM seasons s WHERE s.group_id = NEW.group_id AND s.id = NEW.season_id AND s.closed_at IS NOT NULL) THEN
    RAISE EXCEPTION 'the season is closed' USING ERRCODE = 'check_violation', CONSTRAINT = 'guesses_end_with_the_season';
  END IF;
  RETURN NEW;
END $$;
--> statement-breakpoint
CREATE TRIGGER guesses_end_with_the_season BEFORE UPDATE ON public.guesses
  FOR EACH ROW EXECUTE FUNCTION public.refuse_late_guess();
