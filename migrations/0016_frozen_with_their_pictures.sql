-- Which pictures were chosen is a part of a frozen report too.
DROP TRIGGER frozen_reports_never_change ON public.reports;
--> statement-breakpoint
CREATE TRIGGER frozen_reports_never_change BEFORE UPDATE ON public.reports
  FOR EACH ROW WHEN (OLD.state = 'frozen' AND
    (OLD.title, OLD.words, OLD.state, OLD.keeps, OLD.season, OLD.sections, OLD.pictures, OLD.rows_agreed, OLD.first_id, OLD.edition,
     OLD.contents, OLD.rows, OLD.schema_version, OLD.checksum, OLD.data_cut_off, OLD.service_version, OLD.frozen_at)
    IS DISTINCT FROM
    (NEW.title, NEW.words, NEW.state, NEW.keeps, NEW.season, NEW.sections, NEW.pictures, NEW.rows_agreed, NEW.first_id, NEW.edition,
     NEW.contents, NEW.rows, NEW.schema_version, NEW.checksum, NEW.data_cut_off, NEW.service_version, NEW.frozen_at))
  EXECUTE FUNCTION public.refuse_locked();
