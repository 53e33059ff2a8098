-- Why a house was closed before all was finished; the page says it.
ALTER TABLE "project" ADD COLUMN "closed_because" TEXT NOT NULL DEFAULT '';
