-- Pictures are walled and kept in the history as any table of a group; their bytes are walled and written once, and the
-- history, which copies rows, never sees them.
SELECT public.wall_in('public.pictures'::regclass, 'group_id'), public.keep_history('public.pictures'::regclass, 'group_id', 'id'),
       public.wall_in('public.picture_bytes'::regclass, 'group_id');
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE ON public.pictures TO evenground_member;
--> statement-breakpoint
GRANT SELECT, INSERT ON public.picture_bytes TO evenground_member;
--> statement-breakpoint
ALTER TABLE public.pictures ADD CONSTRAINT pictures_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
--> statement-breakpoint
ALTER TABLE public.picture_bytes ADD CONSTRAINT picture_bytes_group FOREIGN KEY (group_id) REFERENCES public.groups (id);
