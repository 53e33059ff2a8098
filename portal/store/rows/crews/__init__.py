"""Rows of the firm's crews."""
