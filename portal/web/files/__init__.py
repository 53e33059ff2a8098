"""Files in answer to a request: drilling sheets, published pages, the plan on one sheet."""
