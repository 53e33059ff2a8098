"""What of a project's rows its record tells, and whether a row holds what its columns can hold."""
