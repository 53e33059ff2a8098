-- A signed-in browser: the digest of the mark in its cookie. Proved: the second factor was given, too.
CREATE TABLE "staff_session" (
    "id" {serial},
    "staff_id" BIGINT NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "device" VARCHAR(255) NOT NULL,
    "began_at" BIGINT NOT NULL,
    "used_at" BIGINT NOT NULL,
    "proved_at" BIGINT,
    "ended_at" BIGINT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE UNIQUE INDEX "staff_session_digest" ON "staff_session" ("digest");
CREATE INDEX "staff_session_staff_id" ON "staff_session" ("staff_id");

-- The key of the codes is made from the secret and the salt, as links are. A code of an earlier step is not taken again.
CREATE TABLE "second_factor" (
    "staff_id" BIGINT NOT NULL PRIMARY KEY,
    "salt" VARCHAR(255) NOT NULL,
    "codes_salt" VARCHAR(255) NOT NULL,
    "made_at" BIGINT NOT NULL,
    "last_step" BIGINT NOT NULL,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);

CREATE TABLE "recovery_code" (
    "id" {serial},
    "staff_id" BIGINT NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "used_at" BIGINT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE UNIQUE INDEX "recovery_code_digest" ON "recovery_code" ("digest");
CREATE INDEX "recovery_code_staff_id" ON "recovery_code" ("staff_id");

-- What was done to an account, by whom; null: on the server, by its operator.
CREATE TABLE "account_entry" (
    "id" {serial},
    "staff_id" BIGINT NOT NULL,
    "by_id" BIGINT,
    "at" BIGINT NOT NULL,
    "kind" VARCHAR(255) NOT NULL,
    "note" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id"),
    FOREIGN KEY ("by_id") REFERENCES "staff" ("id")
);
CREATE INDEX "account_entry_staff_id" ON "account_entry" ("staff_id");

ALTER TABLE "firm" ADD COLUMN "demands_second_factor" BOOLEAN NOT NULL DEFAULT FALSE;
