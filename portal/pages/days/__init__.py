"""A day as it is said: the house tonight and tomorrow, what a day takes, who comes and whether that can be kept."""
