"""The form engine that desk and house stand on: inputs, names as paths, and forms that are sent twice."""
