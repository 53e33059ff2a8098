-- The share of a forecast's futures that are done by the day on which the plan is. Not known of the forecasts kept so far:
-- the next look at each house makes one anew.
ALTER TABLE "forecast" ADD COLUMN "sure" DOUBLE PRECISION;

-- Why the dates of an order were last changed, and a visit was last moved. Not asked so far.
ALTER TABLE "delivery" ADD COLUMN "reason" TEXT NOT NULL DEFAULT '';
ALTER TABLE "visit" ADD COLUMN "reason" TEXT NOT NULL DEFAULT '';

-- How far the record of each house was replayed, and what moved its finish. It follows from the record.
CREATE TABLE "finish_moves" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "entry" INTEGER NOT NULL,
    "at" BIGINT NOT NULL,
    "told" {json} NOT NULL,
    "since" DATE,
    "first" DATE,
    "finish" DATE,
    "moves" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
