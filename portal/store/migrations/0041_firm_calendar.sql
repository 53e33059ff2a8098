-- The firm's own zone and working calendar; NULL: none is written down.
ALTER TABLE "firm" ADD COLUMN "timezone" VARCHAR(255) NOT NULL DEFAULT '';
ALTER TABLE "firm" ADD COLUMN "calendar" {json};

-- Houses that are there already keep the calendar that they have, each its own.
ALTER TABLE "project" ADD COLUMN "as_firm" BOOLEAN NOT NULL DEFAULT FALSE;
