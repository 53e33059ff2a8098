"""Who and what comes to the house: visits, deliveries, and the clock that they go by."""
