"""The JSON skin: schemas that validate, one module a resource, problem details on every error."""
