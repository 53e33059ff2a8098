"""What the household has and does without: services of rooms, tonight, nights to plan for, cure times."""
