-- Forecasts as they were made, so that they can be held to account; what a plan to start from asks and orders in time.

CREATE TABLE "forecast" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "state" VARCHAR(255) NOT NULL,
    "made_at" BIGINT NOT NULL,
    "futures" INTEGER NOT NULL,
    "likely_by" BIGINT NOT NULL,
    "safely_by" BIGINT NOT NULL,
    "promised_on" DATE,
    "chance" DOUBLE PRECISION,
    "phases" {json} NOT NULL,
    "decisions" {json} NOT NULL,
    "deliveries" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
CREATE INDEX "forecast_project_id" ON "forecast" ("project_id");

CREATE TABLE "planned_question" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "room_id" BIGINT,
    "kind" VARCHAR(255) NOT NULL,
    "question" TEXT NOT NULL,
    "options" {json} NOT NULL,
    "lead_days" INTEGER NOT NULL,
    "holds" {json} NOT NULL,
    "decision_id" BIGINT,
    "dropped_at" BIGINT,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("room_id") REFERENCES "room" ("id") ON DELETE SET NULL,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE SET NULL
);
CREATE INDEX "planned_question_project_id" ON "planned_question" ("project_id");

CREATE TABLE "planned_order" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "item" VARCHAR(255) NOT NULL,
    "phases" {json} NOT NULL,
    "delivery_id" BIGINT,
    "dropped_at" BIGINT,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("delivery_id") REFERENCES "delivery" ("id") ON DELETE SET NULL
);
CREATE INDEX "planned_order_project_id" ON "planned_order" ("project_id");

ALTER TABLE "phase" ADD COLUMN "starter" VARCHAR(255) NOT NULL DEFAULT '';

-- Working minutes for which work on it has rested and gone on again.
ALTER TABLE "phase" ADD COLUMN "rested" INTEGER NOT NULL DEFAULT 0;
