"""Decisions: asked, approved, asked back, taken back, proposed; and the holds that they are."""
