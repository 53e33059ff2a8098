-- What was measured once, or read off a sheet. Without a project: the firm's, for every house.

CREATE TABLE "kept_size" (
    "id" {serial},
    "version" INTEGER NOT NULL,
    "project_id" BIGINT,
    "what" VARCHAR(255) NOT NULL,
    "name" VARCHAR(255) NOT NULL,
    "values" {json} NOT NULL,
    "source" VARCHAR(255) NOT NULL,
    FOREIGN KEY ("project_id") REFERENCES "project" ("id") ON DELETE CASCADE
);
CREATE UNIQUE INDEX "kept_size_project_id_what_name" ON "kept_size" ("project_id", "what", "name");
