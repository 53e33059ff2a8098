-- The first version of the schema. Frozen: later versions are reached by later migrations.
-- {serial}, {json} and {blob} stand for what the database at hand calls them.

CREATE TABLE "answered" (
    "who" VARCHAR(255) NOT NULL,
    "key" VARCHAR(255) NOT NULL,
    "request" VARCHAR(255) NOT NULL,
    "status" INTEGER NOT NULL,
    "headers" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    PRIMARY KEY ("who", "key")
);

CREATE TABLE "project" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "address" VARCHAR(255) NOT NULL,
    "timezone" VARCHAR(255) NOT NULL,
    "calendar" {json} NOT NULL,
    "starts_on" DATE NOT NULL,
    "promised_on" DATE,
    "signed_on" DATE,
    "contract_cents" BIGINT,
    "phone" VARCHAR(255) NOT NULL,
    "office_hours" VARCHAR(255) NOT NULL,
    "closed_at" BIGINT,
    "changed" INTEGER NOT NULL
);

CREATE TABLE "room" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "position" INTEGER NOT NULL,
    "services" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
CREATE INDEX "room_project_id" ON "room" ("project_id");
CREATE UNIQUE INDEX "room_project_id_name" ON "room" ("project_id", "name");

CREATE TABLE "decision" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" VARCHAR(255) NOT NULL,
    "room_id" INTEGER,
    "lead_days" INTEGER NOT NULL,
    "asked_for" DATE,
    "approvers" VARCHAR(255) NOT NULL,
    "revision" INTEGER NOT NULL,
    "state" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("room_id") REFERENCES "room" ("id") ON DELETE RESTRICT
);
CREATE INDEX "decision_project_id" ON "decision" ("project_id");
CREATE INDEX "decision_room_id" ON "decision" ("room_id");
CREATE UNIQUE INDEX "decision_project_id_number" ON "decision" ("project_id", "number");

CREATE TABLE "person" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "role" VARCHAR(255) NOT NULL,
    "phone" VARCHAR(255) NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "may_approve" BOOLEAN NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
CREATE INDEX "person_project_id" ON "person" ("project_id");

CREATE TABLE "approval" (
    "id" {serial},
    "decision_id" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "option" VARCHAR(255) NOT NULL,
    "person_id" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT
);
CREATE INDEX "approval_decision_id" ON "approval" ("decision_id");
CREATE INDEX "approval_person_id" ON "approval" ("person_id");
CREATE UNIQUE INDEX "approval_decision_id_revision_person_id" ON "approval" ("decision_id", "revision", "person_id");

CREATE TABLE "staff" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "role" VARCHAR(255) NOT NULL,
    "password_hash" VARCHAR(255) NOT NULL,
    "active" BOOLEAN NOT NULL
);
CREATE UNIQUE INDEX "staff_email" ON "staff" ("email");

CREATE TABLE "call" (
    "id" {serial},
    "project_id" INTEGER NOT NULL,
    "staff_id" INTEGER,
    "at" BIGINT NOT NULL,
    "caller" VARCHAR(255) NOT NULL,
    "asked" TEXT NOT NULL,
    "told" TEXT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE INDEX "call_project_id" ON "call" ("project_id");
CREATE INDEX "call_staff_id" ON "call" ("staff_id");

CREATE TABLE "delivery" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "item" VARCHAR(255) NOT NULL,
    "expected_low" DATE NOT NULL,
    "expected_on" DATE NOT NULL,
    "expected_high" DATE NOT NULL,
    "arrived_at" BIGINT,
    "note" TEXT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
CREATE INDEX "delivery_project_id" ON "delivery" ("project_id");

CREATE TABLE "phase" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "room_id" INTEGER,
    "name" VARCHAR(255) NOT NULL,
    "crew" VARCHAR(255) NOT NULL,
    "position" INTEGER NOT NULL,
    "work_low" INTEGER NOT NULL,
    "work_likely" INTEGER NOT NULL,
    "work_high" INTEGER NOT NULL,
    "not_before" DATE,
    "state" VARCHAR(255) NOT NULL,
    "started_at" BIGINT,
    "finished_at" BIGINT,
    "remaining" INTEGER,
    "note" TEXT NOT NULL,
    "takes" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("room_id") REFERENCES "room" ("id") ON DELETE RESTRICT
);
CREATE INDEX "phase_project_id" ON "phase" ("project_id");
CREATE INDEX "phase_room_id" ON "phase" ("room_id");
CREATE UNIQUE INDEX "phase_project_id_name" ON "phase" ("project_id", "name");

CREATE TABLE "delivery_hold" (
    "id" {serial},
    "delivery_id" INTEGER NOT NULL,
    "phase_id" INTEGER NOT NULL,
    FOREIGN KEY ("delivery_id") REFERENCES "delivery" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE CASCADE
);
CREATE INDEX "delivery_hold_delivery_id" ON "delivery_hold" ("delivery_id");
CREATE INDEX "delivery_hold_phase_id" ON "delivery_hold" ("phase_id");
CREATE UNIQUE INDEX "delivery_hold_delivery_id_phase_id" ON "delivery_hold" ("delivery_id", "phase_id");

CREATE TABLE "firm" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "phone" VARCHAR(255) NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "address" VARCHAR(255) NOT NULL,
    "office_hours" VARCHAR(255) NOT NULL,
    "registrations" {json} NOT NULL
);

CREATE TABLE "link" (
    "id" {serial},
    "person_id" INTEGER NOT NULL,
    "salt" VARCHAR(255) NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "made_at" BIGINT NOT NULL,
    "revoked_at" BIGINT,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE CASCADE
);
CREATE INDEX "link_person_id" ON "link" ("person_id");
CREATE UNIQUE INDEX "link_digest" ON "link" ("digest");

CREATE TABLE "phase_hold" (
    "id" {serial},
    "phase_id" INTEGER NOT NULL,
    "decision_id" INTEGER NOT NULL,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE CASCADE
);
CREATE INDEX "phase_hold_phase_id" ON "phase_hold" ("phase_id");
CREATE INDEX "phase_hold_decision_id" ON "phase_hold" ("decision_id");
CREATE UNIQUE INDEX "phase_hold_phase_id_decision_id" ON "phase_hold" ("phase_id", "decision_id");

CREATE TABLE "phase_link" (
    "id" {serial},
    "phase_id" INTEGER NOT NULL,
    "after_id" INTEGER NOT NULL,
    "wait" INTEGER NOT NULL,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("after_id") REFERENCES "phase" ("id") ON DELETE CASCADE
);
CREATE INDEX "phase_link_phase_id" ON "phase_link" ("phase_id");
CREATE INDEX "phase_link_after_id" ON "phase_link" ("after_id");
CREATE UNIQUE INDEX "phase_link_phase_id_after_id" ON "phase_link" ("phase_id", "after_id");

CREATE TABLE "update" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "staff_id" INTEGER,
    "at" BIGINT NOT NULL,
    "text" TEXT NOT NULL,
    "html" TEXT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE INDEX "update_project_id" ON "update" ("project_id");
CREATE INDEX "update_staff_id" ON "update" ("staff_id");
CREATE INDEX "update_at" ON "update" ("at");

CREATE TABLE "photo" (
    "id" {serial},
    "update_id" INTEGER NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "caption" VARCHAR(255) NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    FOREIGN KEY ("update_id") REFERENCES "update" ("id") ON DELETE CASCADE
);
CREATE INDEX "photo_update_id" ON "photo" ("update_id");

CREATE TABLE "question_back" (
    "id" {serial},
    "decision_id" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "person_id" INTEGER NOT NULL,
    "text" TEXT NOT NULL,
    "asked_at" BIGINT NOT NULL,
    "answer" TEXT,
    "answered_by_id" INTEGER,
    "answered_at" BIGINT,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id"),
    FOREIGN KEY ("answered_by_id") REFERENCES "staff" ("id")
);
CREATE INDEX "question_back_decision_id" ON "question_back" ("decision_id");
CREATE INDEX "question_back_person_id" ON "question_back" ("person_id");
CREATE INDEX "question_back_answered_by_id" ON "question_back" ("answered_by_id");

CREATE TABLE "record_entry" (
    "project_id" INTEGER NOT NULL,
    "sequence" INTEGER NOT NULL,
    "at" VARCHAR(255) NOT NULL,
    "kind" VARCHAR(255) NOT NULL,
    "canonical" {blob} NOT NULL,
    "hash" VARCHAR(255) NOT NULL,
    PRIMARY KEY ("project_id", "sequence"),
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE RESTRICT
);
CREATE INDEX "record_entry_project_id" ON "record_entry" ("project_id");

CREATE TABLE "release" (
    "id" {serial},
    "phase_id" INTEGER NOT NULL,
    "decision_id" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "staff_id" INTEGER NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id"),
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE INDEX "release_phase_id" ON "release" ("phase_id");
CREATE INDEX "release_decision_id" ON "release" ("decision_id");
CREATE INDEX "release_staff_id" ON "release" ("staff_id");

CREATE TABLE "revision" (
    "id" {serial},
    "decision_id" INTEGER NOT NULL,
    "number" INTEGER NOT NULL,
    "question" TEXT NOT NULL,
    "options" {json} NOT NULL,
    "detail" {json},
    "shown" TEXT NOT NULL,
    "check_code" VARCHAR(255) NOT NULL,
    "asked_at" BIGINT NOT NULL,
    "asked_by_id" INTEGER,
    "reason" TEXT NOT NULL,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("asked_by_id") REFERENCES "staff" ("id")
);
CREATE INDEX "revision_decision_id" ON "revision" ("decision_id");
CREATE INDEX "revision_asked_by_id" ON "revision" ("asked_by_id");
CREATE UNIQUE INDEX "revision_decision_id_number" ON "revision" ("decision_id", "number");

CREATE TABLE "token" (
    "id" {serial},
    "staff_id" INTEGER NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "label" TEXT NOT NULL,
    "made_at" BIGINT NOT NULL,
    "revoked_at" BIGINT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE INDEX "token_staff_id" ON "token" ("staff_id");
CREATE UNIQUE INDEX "token_digest" ON "token" ("digest");

CREATE TABLE "visit" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" INTEGER NOT NULL,
    "phase_id" INTEGER,
    "crew" VARCHAR(255) NOT NULL,
    "purpose" VARCHAR(255) NOT NULL,
    "starts_at" BIGINT NOT NULL,
    "ends_at" BIGINT NOT NULL,
    "cancelled_at" BIGINT,
    "cancelled_because" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("phase_id") REFERENCES "phase" ("id") ON DELETE SET NULL
);
CREATE INDEX "visit_project_id" ON "visit" ("project_id");
CREATE INDEX "visit_phase_id" ON "visit" ("phase_id");
CREATE INDEX "visit_starts_at" ON "visit" ("starts_at");
