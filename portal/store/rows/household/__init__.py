"""What the household tells: messages, and notes for the crew."""
