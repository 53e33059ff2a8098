"""What must be kept on a deck: distances, limits of one thing and of two, and the checks that they make."""
