-- Why the work of a phase rests, in a field of its own: until now it stood in its note. What the record has told of that
-- note stays as it is; the pages say the same text once.
ALTER TABLE "phase" ADD COLUMN "stopped_reason" TEXT NOT NULL DEFAULT '';
UPDATE "phase" SET "stopped_reason" = "note" WHERE "state" = 'stopped';

-- A release that was taken back. The release itself stays.
CREATE TABLE "release_taken_back" (
    "release_id" BIGINT NOT NULL PRIMARY KEY,
    "reason" TEXT NOT NULL,
    "staff_id" BIGINT NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("release_id") REFERENCES "release" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
