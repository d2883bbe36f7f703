-- The wall and the history of prices that hold from a day. A price that stood before has held from the beginning, so that what a
-- harvest was worth stays what it was.
DO $$
BEGIN
  PERFORM public.wall_in('public.crop_prices', 'group_id');
  PERFORM public.keep_history('public.crop_prices', 'group_id', 'id');
  GRANT SELECT, INSERT, UPDATE ON public.crop_prices TO evenground_member;
  ALTER TABLE public.crop_prices ADD CONSTRAINT crop_prices_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
END $$;
