"""Layouts and plans as drawings: one scene in millimetres, read as SVG, as a PDF drilling sheet and as DXF."""
