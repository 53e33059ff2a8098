"""The homeowner's own copy: one zip that opens offline in any browser, with everything that proves it."""
