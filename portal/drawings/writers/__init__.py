"""Scenes written as SVG, PDF and DXF."""
