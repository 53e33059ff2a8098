"""What is said, in one place: dates, money, names, lists, lengths, codes, and what a typed text may hold. Pure."""
