"""What proves: the record in sentences, receipts, and what a check code says."""
