-- A season lasts two years at most and lies in the years of a record (src/quantities/dates.ts), also one that a package brings
-- in: its weeks are gone through on every page that compares. A longer one that stands already is kept as it is until it is
-- corrected.
ALTER TABLE public.seasons ADD CONSTRAINT seasons_last_two_years_at_most
  CHECK (ends_on <= starts_on + 731 AND starts_on >= '1900-01-01' AND ends_on <= '2199-12-31') NOT VALID;
