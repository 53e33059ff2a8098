-- What a designer proposes for a decision: the dimensions with their placement, and which layout of them.

CREATE TABLE "proposal" (
    "id" {serial},
    "decision_id" BIGINT NOT NULL,
    "person_id" BIGINT NOT NULL,
    "dimensions" {json} NOT NULL,
    "layout" VARCHAR(255) NOT NULL,
    "note" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE CASCADE,
    FOREIGN KEY ("person_id") REFERENCES "person" ("id") ON DELETE RESTRICT
);
CREATE INDEX "proposal_decision_id" ON "proposal" ("decision_id");
