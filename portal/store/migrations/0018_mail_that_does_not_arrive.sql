-- Who stopped our mail and began it again, which letters came back and why, how far the mailbox of returned mail was
-- read, and when the reminders of a project are looked at next.

CREATE TABLE "mail_stop" (
    "id" {serial},
    "person_id" BIGINT NOT NULL,
    "stopped_at" BIGINT NOT NULL,
    "resumed_at" BIGINT,
    "resumed_by" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE CASCADE
);
CREATE INDEX "mail_stop_person_id" ON "mail_stop" ("person_id");

CREATE TABLE "bounce" (
    "id" {serial},
    "notice_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "email" VARCHAR(255) NOT NULL,
    "at" BIGINT NOT NULL,
    "status" VARCHAR(255) NOT NULL,
    "said" TEXT NOT NULL,
    "bad_address" BOOLEAN NOT NULL,
    "cleared_at" BIGINT,
    FOREIGN KEY ("notice_id") REFERENCES "notice" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE CASCADE
);
CREATE UNIQUE INDEX "bounce_notice_id" ON "bounce" ("notice_id");
CREATE INDEX "bounce_person_id" ON "bounce" ("person_id");

CREATE TABLE "returned_mailbox" (
    "mailbox" VARCHAR(255) NOT NULL PRIMARY KEY,
    "validity" BIGINT NOT NULL,
    "last_uid" BIGINT NOT NULL,
    "read_at" BIGINT NOT NULL,
    "trouble" TEXT NOT NULL
);

CREATE TABLE "reminder_look" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "next_at" BIGINT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
