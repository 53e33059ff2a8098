-- The key of the layout that is proposed; null: proposed before there were keys, and found by its title.
ALTER TABLE "proposal" ADD COLUMN "layout_key" VARCHAR(255);
