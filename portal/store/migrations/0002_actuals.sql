-- Work that rests or waits for an inspection, and a record that the database itself refuses to change.

ALTER TABLE "phase" ADD COLUMN "inspection_at" BIGINT;
ALTER TABLE "phase" ADD COLUMN "stopped_at" BIGINT;
ALTER TABLE "phase" ADD COLUMN "resumes_at" BIGINT;
