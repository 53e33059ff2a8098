-- The firm's crews, and the texts in plans and visits that stand for them.

CREATE TABLE "crew" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "trade" VARCHAR(255) NOT NULL,
    "size" INTEGER,
    "phone" VARCHAR(255) NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "week" {json},
    "days_off" {json} NOT NULL,
    "active" BOOLEAN NOT NULL
);
CREATE TABLE "crew_name" (
    "id" {serial},
    "crew_id" BIGINT NOT NULL,
    "folded" VARCHAR(255) NOT NULL,
    "text" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("crew_id") REFERENCES "crew" ("id") ON DELETE CASCADE
);
CREATE INDEX "crew_name_crew_id" ON "crew_name" ("crew_id");
CREATE UNIQUE INDEX "crew_name_folded" ON "crew_name" ("folded");
