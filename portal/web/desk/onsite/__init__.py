"""What the first screen of a house says, for a thumb on site and for a caller on the line."""
