"""What moved the finish, from the record: the plan as entries tell it, why each moved it, and the replay kept."""
