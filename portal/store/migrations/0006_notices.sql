-- The outbox: notices are written with the fact and sent later. When a visit was last changed, for calendars.

CREATE TABLE "notice" (
    "id" {serial},
    "project_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "kind" VARCHAR(255) NOT NULL,
    "about" {json} NOT NULL,
    "mark" VARCHAR(255),
    "made_at" BIGINT NOT NULL,
    "state" VARCHAR(255) NOT NULL,
    "due_at" BIGINT NOT NULL,
    "tries" INTEGER NOT NULL,
    "trouble" TEXT NOT NULL,
    "settled_at" BIGINT,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE CASCADE
);
CREATE UNIQUE INDEX "notice_mark" ON "notice" ("mark");
CREATE INDEX "notice_state_due_at" ON "notice" ("state", "due_at");

ALTER TABLE "visit" ADD COLUMN "changed_at" BIGINT NOT NULL DEFAULT 0;
