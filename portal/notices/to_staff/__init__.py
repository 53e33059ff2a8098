"""Letters to our own people."""
