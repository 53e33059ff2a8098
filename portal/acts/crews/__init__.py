"""What the firm does with its crews."""
