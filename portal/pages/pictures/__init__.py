"""Pictures that pages show beside their words, drawn from what is kept."""
