"""The log itself: canonical entries in a chain, the Merkle tree over them, signed heads."""
