-- For the crew only. Nothing is made of it but what staff and its writer see.
CREATE TABLE "crew_note" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "away_from" DATE,
    "away_to" DATE,
    "keys" TEXT NOT NULL,
    "pets" TEXT NOT NULL,
    "parking" TEXT NOT NULL,
    "alarm" TEXT NOT NULL,
    "changed_at" BIGINT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE CASCADE
);
CREATE INDEX "crew_note_project_id" ON "crew_note" ("project_id");
CREATE UNIQUE INDEX "crew_note_person_id" ON "crew_note" ("person_id");
