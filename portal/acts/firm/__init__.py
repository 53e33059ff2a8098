"""The firm: its people and its projects."""
