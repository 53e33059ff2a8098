-- Which keys this database was begun with: the public key that checks the heads of its records (64 hex digits), and the
-- digest of the secret that its links are made from. One row; none until the keys are taken at the next start.

CREATE TABLE "firm_keys" (
    "id" {serial},
    "record_key" VARCHAR(255) NOT NULL,
    "secret_digest" VARCHAR(255) NOT NULL
);
