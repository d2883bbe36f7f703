SELECT public.stays_while_used('beds', 'labour_shares', 'bed_id');
