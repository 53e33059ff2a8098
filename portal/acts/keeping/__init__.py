"""What is kept as evidence: receipts, verification, keys, photos."""
