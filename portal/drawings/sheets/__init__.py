"""The drilling sheet: what stands on it, how it is spread over paper, and how its pages are drawn."""
