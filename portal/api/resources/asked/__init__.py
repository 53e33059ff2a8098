"""What a question shows: its options with their finish, and photos that are sent for them."""
