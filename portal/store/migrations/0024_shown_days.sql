-- Which date a published page shows, so that a tick finds in one look which pages are of yesterday. Of those published
-- already it is not known: the first tick looks into them and notes it.

ALTER TABLE "shown_page" ADD COLUMN "day" VARCHAR(255) NOT NULL DEFAULT '';
