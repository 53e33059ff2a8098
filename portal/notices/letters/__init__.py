"""Letters that tell of what others did."""
