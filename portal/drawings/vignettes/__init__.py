"""A room as a small picture of its parts, what stands solid and what comes dashed; and its steps as a folding rule."""
