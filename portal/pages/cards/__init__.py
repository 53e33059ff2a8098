"""What the household owes us and we owe them, as cards and slips of the page; and what of it stands first."""
