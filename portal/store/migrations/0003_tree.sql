-- The Merkle tree over each project's record, consent to deal electronically, withdrawn approvals, hand-overs.

CREATE TABLE "record_node" (
    "project_id" BIGINT NOT NULL,
    "level" INTEGER NOT NULL,
    "place" BIGINT NOT NULL,
    "hash" {blob} NOT NULL,
    PRIMARY KEY ("project_id", "level", "place"),
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE RESTRICT
);

CREATE TABLE "record_edge" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "size" BIGINT NOT NULL,
    "peaks" {blob} NOT NULL,
    "hash" VARCHAR(255) NOT NULL,
    "at" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE RESTRICT
);

CREATE TABLE "consent" (
    "id" {serial},
    "person_id" BIGINT NOT NULL,
    "version" VARCHAR(255) NOT NULL,
    "at" BIGINT NOT NULL,
    "withdrawn_at" BIGINT,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT
);
CREATE INDEX "consent_person_id" ON "consent" ("person_id");

CREATE TABLE "withdrawal" (
    "approval_id" BIGINT NOT NULL PRIMARY KEY,
    "person_id" BIGINT NOT NULL,
    "reason" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("approval_id") REFERENCES "approval" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT
);
DROP INDEX "approval_decision_id_revision_person_id";
CREATE INDEX "approval_decision_id_revision" ON "approval" ("decision_id", "revision");
DROP INDEX "approval_decision_id";

CREATE TABLE "handover" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" BIGINT NOT NULL,
    "phase_id" BIGINT,
    "offered_at" BIGINT NOT NULL,
    "offered_by_id" BIGINT,
    "note" TEXT NOT NULL,
    "accepted_at" BIGINT,
    "accepted_by_id" BIGINT,
    "accepted_name" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("offered_by_id") REFERENCES "staff" ("id"),
    FOREIGN KEY ("accepted_by_id") REFERENCES "person" ("id")
);
CREATE INDEX "handover_project_id" ON "handover" ("project_id");

CREATE TABLE "open_item" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "handover_id" BIGINT NOT NULL,
    "room_id" BIGINT,
    "item" TEXT NOT NULL,
    "photo" VARCHAR(255) NOT NULL,
    "who" VARCHAR(255) NOT NULL,
    "by_on" DATE,
    "added_by" VARCHAR(255) NOT NULL,
    "added_at" BIGINT NOT NULL,
    "done_at" BIGINT,
    FOREIGN KEY ("handover_id") REFERENCES "handover" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("room_id") REFERENCES "room" ("id") ON DELETE RESTRICT
);
CREATE INDEX "open_item_handover_id" ON "open_item" ("handover_id");
