"""What is read when a house is closed."""
