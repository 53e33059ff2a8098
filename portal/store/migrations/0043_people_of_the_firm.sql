-- One way to set a password, once and for a day. Only the digest of its link is kept.
CREATE TABLE "way_in" (
    "id" {serial},
    "staff_id" BIGINT NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "made_at" BIGINT NOT NULL,
    "by_id" BIGINT,
    "used_at" BIGINT,
    "ended_at" BIGINT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id"),
    FOREIGN KEY ("by_id") REFERENCES "staff" ("id")
);
CREATE INDEX "way_in_staff_id" ON "way_in" ("staff_id");
CREATE UNIQUE INDEX "way_in_digest" ON "way_in" ("digest");

-- When something of the first day was done, once for each.
CREATE TABLE "first_day" (
    "step" VARCHAR(255) NOT NULL PRIMARY KEY,
    "at" BIGINT NOT NULL,
    "trouble" TEXT NOT NULL
);

-- A few letters that stand beside the firm's name.
ALTER TABLE "firm" ADD COLUMN "mark" VARCHAR(255) NOT NULL DEFAULT '';

-- Who delivers, and how many working days they take. Whoever is dropped is chosen no more, and stays with old orders.
CREATE TABLE "supplier" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "phone" VARCHAR(255) NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "lead_days" INTEGER,
    "dropped_at" BIGINT
);
CREATE UNIQUE INDEX "supplier_name" ON "supplier" ("name");
ALTER TABLE "delivery" ADD COLUMN "supplier_id" BIGINT REFERENCES "supplier" ("id");
ALTER TABLE "delivery" ADD COLUMN "order_number" VARCHAR(255) NOT NULL DEFAULT '';
ALTER TABLE "delivery" ADD COLUMN "ordered_on" DATE;
ALTER TABLE "planned_order" ADD COLUMN "supplier_id" BIGINT REFERENCES "supplier" ("id");

-- What became of what a designer proposed: '' (nothing yet), taken, changed, refused.
ALTER TABLE "proposal" ADD COLUMN "outcome" VARCHAR(255) NOT NULL DEFAULT '';
ALTER TABLE "proposal" ADD COLUMN "because" TEXT NOT NULL DEFAULT '';
ALTER TABLE "proposal" ADD COLUMN "settled_at" BIGINT;
