-- An owner has said yes to it. Owners themselves read prices in any case.
ALTER TABLE "person" ADD COLUMN "reads_prices" BOOLEAN NOT NULL DEFAULT FALSE;

UPDATE "project" SET "changed" = "changed" + 1;
