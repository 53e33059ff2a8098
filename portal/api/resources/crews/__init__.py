"""The firm's crews, and their week."""
