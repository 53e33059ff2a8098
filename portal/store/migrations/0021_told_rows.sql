-- The number of the entry that told how all rows of a project stood; 0 while none has.

ALTER TABLE "record_edge" ADD COLUMN "told_from" BIGINT NOT NULL DEFAULT 0;
