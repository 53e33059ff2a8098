"""Scenes: one description of a drawing in millimetres for each kind of layout, and how it is set out."""
