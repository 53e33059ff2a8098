-- An approval that was signed on paper names who of the office entered it.

ALTER TABLE "approval" ADD COLUMN "entered_by_id" BIGINT REFERENCES "staff" ("id");
