"""What a log line may hold of a request."""
