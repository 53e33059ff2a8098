"""Today, over all houses: what is to be done, who works where, and finding a house."""
