"""A verdict as text: one module a format, each ending in a REPORT record."""
