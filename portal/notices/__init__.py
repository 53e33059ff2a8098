"""What people are told without their asking: mail from the outbox, and the visits as a calendar."""
