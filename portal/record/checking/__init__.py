"""Verification in words: of a project's record, of a receipt, of a copy, and of the facts that the record tells."""
