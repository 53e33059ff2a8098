"""The house as the page draws it: what works in each room, and how far each room is."""
