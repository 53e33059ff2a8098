"""What a start out of turn does is said before, and what was taken back after."""
