-- A revision of a question that was withdrawn before it was approved, and whether the work that it held may start.

CREATE TABLE "question_withdrawal" (
    "id" {serial},
    "decision_id" BIGINT NOT NULL,
    "revision" INTEGER NOT NULL,
    "reason" TEXT NOT NULL,
    "lifts_hold" BOOLEAN NOT NULL,
    "staff_id" BIGINT NOT NULL,
    "at" BIGINT NOT NULL,
    FOREIGN KEY ("decision_id") REFERENCES "decision" ("id") ON DELETE RESTRICT,
    FOREIGN KEY ("staff_id") REFERENCES "staff" ("id")
);
CREATE UNIQUE INDEX "question_withdrawal_decision_id_revision" ON "question_withdrawal" ("decision_id", "revision");
