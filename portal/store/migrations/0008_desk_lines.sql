-- What the desk's list says of each project; and the outbox found by person, and its newest by state.

CREATE TABLE "desk_line" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "made_at" BIGINT NOT NULL,
    "good_until" BIGINT NOT NULL,
    "nearest" DATE,
    "waiting" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);

CREATE INDEX "notice_state_id" ON "notice" ("state", "id");
CREATE INDEX "notice_person_id_kind" ON "notice" ("person_id", "kind");
