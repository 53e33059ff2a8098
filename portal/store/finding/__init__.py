"""What is found by what somebody says."""
