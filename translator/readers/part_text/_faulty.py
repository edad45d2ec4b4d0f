"""Where the spelling of a file has faults, and which part each is a fault of."""

import re
from bisect import bisect_left
from collections.abc import Iterator
from typing import Final

from translator.syntax.quoting import unquoted
from translator.syntax.tree import Extent, Fault, Node, PartText, Word

_OF_THE_FILE: Final = re.compile(r"\b(?:units|part|family|use)\b", re.IGNORECASE)
"""Words of statements that stand outside parts and reach those that follow."""


class FaultyLines:
    """Answers whether a fault of the spelling lies within a stretch of the file."""

    def __init__(self, tree: PartText) -> None:
        """Note the places of a file's faults."""
        self._places = [fault.extent for fault in tree.faults]
        self._begins = [place[:2] for place in self._places]

    def first(self, extent: Extent) -> Extent | None:
        """Return the first fault that begins within an extent."""
        first = bisect_left(self._begins, extent[:2])
        is_within = first < len(self._begins) and self._begins[first] <= extent[2:]
        return self._places[first] if is_within else None

    def has_any(self, extent: Extent) -> bool:
        """Tell whether a fault begins within an extent."""
        return self.first(extent) is not None


def attributed(tree: PartText) -> Iterator[tuple[Fault, str]]:
    """Yield each fault of the spelling with the mark of the part that alone it concerns.

    The mark is "" for a fault outside the braces of parts, and where it is not sure which part
    a line belongs to: a brace is missing, or what was dropped may hold for the whole file.
    """
    inner: list[tuple[tuple[int, int], tuple[int, int], str]] = []
    faulty = FaultyLines(tree)
    for node in tree.root.nodes("part"):
        if faulty.has_any(node.extent):
            mark, first, last = node.node("mark"), node.word("LBRACE"), node.word("RBRACE")
            if mark is not None and first is not None and last is not None and _is_closed(node):
                inner.append((first[2:], last[2:], unquoted(mark.last_word.text)))
    begins = [begin for begin, _, _ in inner]
    for fault in tree.faults:
        number = bisect_left(begins, fault.extent[:2]) - 1
        is_inside = number >= 0 and fault.extent[:2] < inner[number][1]
        yield fault, inner[number][2] if is_inside else ""


def _is_closed(node: Node) -> bool:
    """Tell whether a part has all its braces, and nothing of the file's was dropped in it."""
    waiting = [node]
    while waiting:
        for child in waiting.pop().children:
            if isinstance(child, Node):
                waiting.append(child)
            elif _is_unsure(child):
                return False
    return True


def _is_unsure(word: Word) -> bool:
    if word.type == "BROKEN":
        return _OF_THE_FILE.search(word.text) is not None
    return word.type in ("LBRACE", "RBRACE") and not word.text
