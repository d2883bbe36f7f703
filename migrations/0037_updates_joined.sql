-- The rows of an update stand in its history as they were and as they are, joined by their keys. Planned for the first few
-- that it met, the join went through all rows for each of them: an update of 2,000 took 80 s. Joined by a hash it takes as
-- long as it has rows.
ALTER FUNCTION public.write_history() SET enable_nestloop TO off;
