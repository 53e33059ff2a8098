"""What does not go together: visits that can't be kept, the obstacles in their way, and what a manager is warned of."""
