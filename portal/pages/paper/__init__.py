"""What is printed: the drilling sheet, the plan on one sheet, the way back to paper."""
