"""The run over the parse table: a stack of states, a stack of values, one word at a time."""

from typing import Final

from translator.syntax.table import END, Reduction, Table
from translator.syntax.tree import Child, Node, Word, first_word

DEEPEST: Final = 40
"""Brackets in brackets beyond this are refused: nobody can read them."""

Value = Child | list[Child]
"""What the stack holds: words, nodes, and the children of rules that leave no node."""

_BRACKETS: Final = frozenset({"LPAR", "RPAR"})


class Machine:
    """Reads words into nodes; never recurses, however long or deep the text.

    Attributes:
        stack: the states, the one at the beginning first.
        values: what was read in each state but the first.
        previous: the last word taken.
        depth: how many brackets are open.
    """

    def __init__(self, table: Table) -> None:
        self.stack: list[int] = [table.start]
        self.values: list[Value] = []
        self.previous: Word | None = None
        self.depth = 0
        self._table = table

    def feed(self, word: Word) -> bool:
        """Take one word; False, and nothing taken, if it can't stand here."""
        stack, values, rows = self.stack, self.values, self._table.rows
        kind = word.type
        if kind not in rows[stack[-1]] or (kind in _BRACKETS and not self._count(kind)):
            return False
        while True:
            step = rows[stack[-1]].get(kind)
            if isinstance(step, int):
                stack.append(step)
                values.append(word)
                self.previous = word
                return True
            if step is None:
                return False
            children = values[-step.size :] if step.size else []
            if step.size:
                del stack[-step.size :]
                del values[-step.size :]
            stack.append(self._table.goto(stack[-1], step.rule))
            values.append(_built(step, children))
            if kind == END and stack[-1] == self._table.end:
                return True

    def drop_to(self, kept: int) -> Word | None:
        """Drop what was read behind a state of the stack.

        Returns:
            The first word dropped, None if there was nothing to drop.
        """
        dropped = first_of(self.values[kept]) if self.values[kept:] else None
        del self.stack[kept + 1 :]
        del self.values[kept:]
        self.depth = 0
        return dropped

    def _count(self, bracket: str) -> bool:
        self.depth += 1 if bracket == "LPAR" else -1
        return self.depth <= DEEPEST


def first_of(value: Value) -> Word:
    """Return the first word of a value of the stack."""
    return first_word(value[0] if isinstance(value, list) else value)


def _built(step: Reduction, children: list[Value]) -> Value:
    """Return what a complete rule leaves on the stack."""
    flat: list[Child]
    if step.has_dissolved:
        # A growing list is its rule's first child: it is grown, not copied.
        first = children[0] if children else None
        flat = first if not step.name and isinstance(first, list) else []
        for child in children[1:] if flat is first else children:
            if isinstance(child, list):
                flat.extend(child)
            else:
                flat.append(child)
    else:
        flat = [child for child in children if not isinstance(child, list)]
    if not step.name:
        return flat
    if step.is_single and len(flat) == 1:
        return flat[0]
    return Node(step.name, tuple(flat))
