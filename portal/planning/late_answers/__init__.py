"""What an answer costs that comes late: the finish by the day of the answer, and what moves."""
