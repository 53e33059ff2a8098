"""Pictures that strangers send: their heads, the table of what is taken, and decoding apart from the service."""
