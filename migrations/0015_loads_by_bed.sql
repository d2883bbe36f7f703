-- What is spread over beds in several phases carries none of its own: each of its beds has the one that lies there.
ALTER TABLE "applications" ALTER COLUMN "phase" DROP NOT NULL;