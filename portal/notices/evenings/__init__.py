"""The letter of the evening: when a house is looked at for it, and what it says."""
