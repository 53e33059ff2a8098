-- Markdown by its SHA-256 in hex; by the first 16 digits of it where a revision or consent from before this names it so.

CREATE TABLE "wording" (
    "version" VARCHAR(255) NOT NULL PRIMARY KEY,
    "text" TEXT NOT NULL
);
