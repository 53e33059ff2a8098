"""The record: its canonical form, the chain of entries, proofs over them, signed heads, and verification. Pure."""
