"""Part text to a tree: the grammar, its recovery from faults, the nodes. The only room with lark."""
