-- The last day on which the household can add to the list, by the clock at the house. Without one: until it is accepted.
ALTER TABLE "handover" ADD COLUMN "items_until" DATE;
