"""What is measured once, or usual, and picked from a list in every kind: what may be kept, and how it fills a part."""
