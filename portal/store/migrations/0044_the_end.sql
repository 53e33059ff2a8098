-- An offered hand-over that was taken back stays, so that who opens its address reads what became of it.
ALTER TABLE "handover" ADD COLUMN "taken_back_at" BIGINT;
ALTER TABLE "handover" ADD COLUMN "taken_back_reason" TEXT NOT NULL DEFAULT '';
-- A house that was set up by mistake: no page, no list and no search shows it any more; its record stays.
ALTER TABLE "project" ADD COLUMN "removed_at" BIGINT;
