-- A message of the household, answered once.
CREATE TABLE "message" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "room_id" BIGINT,
    "text" TEXT NOT NULL,
    "photo" VARCHAR(255) NOT NULL,
    "photo_sha256" VARCHAR(255) NOT NULL,
    "told_at" BIGINT NOT NULL,
    "answer" TEXT,
    "answered_by_id" BIGINT,
    "answered_at" BIGINT,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("room_id") REFERENCES "room" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("answered_by_id") REFERENCES "staff" ("id")
);
CREATE INDEX "message_project_id" ON "message" ("project_id");

-- Whether a visit suits somebody, and at which times it was booked when they said so.
CREATE TABLE "visit_answer" (
    "id" {serial},
    "visit_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "suits" BOOLEAN NOT NULL,
    "why" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "starts_at" BIGINT NOT NULL,
    "ends_at" BIGINT NOT NULL,
    FOREIGN KEY ("visit_id") REFERENCES "visit" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT
);
CREATE INDEX "visit_answer_visit_id" ON "visit_answer" ("visit_id");

-- A letter to somebody of the firm.
CREATE TABLE "staff_notice" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "staff_id" BIGINT NOT NULL,
    "kind" VARCHAR(255) NOT NULL,
    "about" {json} NOT NULL,
    "made_at" BIGINT NOT NULL,
    "state" VARCHAR(255) NOT NULL,
    "due_at" BIGINT NOT NULL,
    "tries" INTEGER NOT NULL,
    "trouble" TEXT NOT NULL,
    "settled_at" BIGINT,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id") ON DELETE CASCADE
);
CREATE INDEX "staff_notice_state_due_at" ON "staff_notice" ("state", "due_at");
