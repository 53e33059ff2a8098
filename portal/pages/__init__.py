"""Snapshot and date in, HTML out; and putting it on disk. What is said is made in Python, templates only lay it out."""
