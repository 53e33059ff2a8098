-- The date on a signed sheet; null: approved on a screen, or entered before this was asked.
ALTER TABLE "approval" ADD COLUMN "signed_on" DATE;

-- Null: the person took it back themselves.
ALTER TABLE "withdrawal" ADD COLUMN "entered_by_id" BIGINT REFERENCES "staff" ("id");
