"""The plan at the desk: phases, the table, visits, deliveries, starting, and how well plans fit."""
