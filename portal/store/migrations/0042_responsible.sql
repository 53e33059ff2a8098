-- Nobody is named for the houses that are there already: all managers are told of them, as before.
ALTER TABLE "project" ADD COLUMN "responsible_id" BIGINT REFERENCES "staff" ("id");
