"""What comes with a request: how much of it is read, and files that wait for who sent them."""
