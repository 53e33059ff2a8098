"""What is the firm's, and no house's: its first day, suppliers."""
