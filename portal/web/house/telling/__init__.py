"""What the household tells us, under a private link: messages, whether visits suit, what is for the crew only."""
