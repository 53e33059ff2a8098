-- It follows from the record alone, and is replayed with the next page that asks for it.
DELETE FROM "finish_moves";
