"""Rules: one fault one module, each ending in a RULE record."""
