"""What leaves the house as a file: the receipt, the exported record, the signed list of a copy's files."""
