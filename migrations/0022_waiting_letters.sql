-- What would go by mail waits here where there is none. Of a person and no group: seen at the door alone.
CREATE TABLE "waiting_letters" (
	"id" uuid PRIMARY KEY NOT NULL,
	"person_id" uuid NOT NULL,
	"subject" text NOT NULL,
	"text" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL
);
--> statement-breakpoint
ALTER TABLE "waiting_letters" ADD CONSTRAINT "waiting_letters_person_id_people_id_fk" FOREIGN KEY ("person_id") REFERENCES "public"."people"("id") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "waiting_letters_by_person" ON "waiting_letters" USING btree ("person_id","created_at");
--> statement-breakpoint
ALTER TABLE public.waiting_letters ENABLE ROW LEVEL SECURITY;
--> statement-breakpoint
CREATE POLICY door ON public.waiting_letters TO evenground_door USING (true);
--> statement-breakpoint
GRANT SELECT, INSERT, UPDATE, DELETE ON public.waiting_letters TO evenground_door;
