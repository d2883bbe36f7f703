-- Whether a session rests on a password alone. Those that are open now count as if they did: nobody wrote down how they began.
ALTER TABLE "sessions" ADD COLUMN "factor_shown_at" timestamp with time zone;
