-- SHA-256 of the kept photo of an open item. Empty: no photo, or listed before this was kept.

ALTER TABLE "open_item" ADD COLUMN "photo_sha256" VARCHAR(255) NOT NULL DEFAULT '';
