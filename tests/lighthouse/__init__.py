"""Lighthouse (npm, pinned in package.json) asked about screens of household and desk: `bash tests/long lighthouse`."""
