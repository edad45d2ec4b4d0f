"""Part text to a tree: grammar, recovery from faults, nodes. The only room with lark."""
