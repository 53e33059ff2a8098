"""The record: canonical form, chain, proofs, verification. Pure."""
