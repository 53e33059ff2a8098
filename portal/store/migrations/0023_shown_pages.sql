-- Which change of a project its published page shows, so that whoever watches finds in one look which pages lag behind.
-- What is published already is taken to show all: the tick compares the pages themselves.

ALTER TABLE "project" ADD COLUMN "changed_at" BIGINT NOT NULL DEFAULT 0;

CREATE TABLE "shown_page" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "failing_since" BIGINT,
    "failing" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);

INSERT INTO "shown_page" ("project_id", "changed", "failing_since", "failing")
    SELECT "id", "changed", NULL, '' FROM "project";
