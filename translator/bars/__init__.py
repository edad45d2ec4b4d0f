"""From released parts to bars: stock, cutting plan, bar program, estimate, setup and labels."""
