-- What is kept of a line follows from the rest: it is made anew with the next page.
DROP TABLE "desk_line";

CREATE TABLE "desk_line" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "made_at" BIGINT NOT NULL,
    "good_until" BIGINT NOT NULL,
    "nearest" DATE,
    "waiting" {json} NOT NULL,
    "finish" DATE,
    "matters" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);

CREATE TABLE "told_mark" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "matter" VARCHAR(255) NOT NULL,
    "state" VARCHAR(255) NOT NULL,
    "said" {json} NOT NULL,
    "staff_id" BIGINT NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id") ON DELETE RESTRICT
);

CREATE UNIQUE INDEX "told_mark_project_id_matter" ON "told_mark" ("project_id", "matter");
CREATE INDEX "told_mark_staff_id" ON "told_mark" ("staff_id");
