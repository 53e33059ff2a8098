CREATE TABLE "evening_look" (
    "project_id" BIGINT NOT NULL PRIMARY KEY,
    "changed" INTEGER NOT NULL,
    "next_at" BIGINT NOT NULL,
    "until" BIGINT NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
