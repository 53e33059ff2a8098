"""Lighthouse (npm, pinned in package.json) asked about the screens of a household: `bash tests/long lighthouse`."""
