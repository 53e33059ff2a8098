"""What happens to work under way: it stops and goes on, and what was said of it is taken back."""
