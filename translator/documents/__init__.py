"""Documents: JSON and CSV read strictly, with the place of every value."""
