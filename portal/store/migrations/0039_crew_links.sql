-- The private links of crews; and when each plan has crews at work, kept so that the week over all houses is only looked up.

CREATE TABLE "crew_link" (
    "id" {serial},
    "crew_id" BIGINT NOT NULL,
    "day" DATE,
    "salt" VARCHAR(255) NOT NULL,
    "digest" VARCHAR(255) NOT NULL,
    "made_at" BIGINT NOT NULL,
    "ends_at" BIGINT,
    "revoked_at" BIGINT,
    FOREIGN KEY ("crew_id") REFERENCES "crew" ("id") ON DELETE CASCADE
);
CREATE INDEX "crew_link_crew_id" ON "crew_link" ("crew_id");
CREATE UNIQUE INDEX "crew_link_digest" ON "crew_link" ("digest");
CREATE TABLE "planned_work" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "day" DATE NOT NULL,
    "work" {json} NOT NULL,
    "visits" {json} NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
