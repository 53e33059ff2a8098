"""Small drawings of the things of a house and of what one presses, all in one field, as data."""
