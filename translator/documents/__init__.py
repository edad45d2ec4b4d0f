"""Documents: JSON read strictly, with the place of every value; what all JSON formats share."""
