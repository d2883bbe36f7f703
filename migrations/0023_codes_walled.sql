-- Only the door sees what a second step at sign-in rests on; no group does.
DO $$
DECLARE opened text;
BEGIN
  FOREACH opened IN ARRAY ARRAY['second_steps', 'recovery_codes', 'half_sign_ins'] LOOP
    EXECUTE format('ALTER TABLE public.%I ENABLE ROW LEVEL SECURITY', opened);
    EXECUTE format('CREATE POLICY door ON public.%I TO evenground_door USING (true)', opened);
    EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON public.%I TO evenground_door', opened);
  END LOOP;
END $$;
