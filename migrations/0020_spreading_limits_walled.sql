-- The wall and the history of local limits; a group that ends takes them along, as it takes what it spread.
SELECT public.wall_in('public.spreading_limits', 'group_id'), public.keep_history('public.spreading_limits', 'group_id', 'id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.spreading_limits TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.spreading_limits ADD CONSTRAINT spreading_limits_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
