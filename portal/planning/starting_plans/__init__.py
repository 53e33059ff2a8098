"""Plans to start from: typical phases, waits, holds and questions, read from TOML files."""
