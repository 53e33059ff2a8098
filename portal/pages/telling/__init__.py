"""What the household tells us: their messages, which visits suit, what is for the crew only."""
