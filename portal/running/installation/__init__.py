"""What `portal check` looks at on a server: one module a kind of thing."""
