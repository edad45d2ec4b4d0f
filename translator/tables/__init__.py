"""Published tables with their sources: sections, and the names the trade gives them."""
