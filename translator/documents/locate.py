"""Where the values of a JSON text stand; looked up only when a finding needs a place."""

import json
import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from typing import Any, Final

from msgspec import Struct

from translator.source import Span

Json = Any
"""Any JSON value: dictionaries, tuples or lists, texts, numbers, booleans, None."""

Step = str | int
Path = tuple[Step, ...]
"""Field names and indices from the document down to a value."""

Ordinals = tuple[int, ...]
"""The same by number: the n-th member of an object, the n-th of a list, from 0."""

_BLANK: Final = re.compile(r"[ \t\n\r]*")
_COLON: Final = re.compile(r"[ \t\n\r]*:[ \t\n\r]*")
_COMMA: Final = re.compile(r"[ \t\n\r]*,?[ \t\n\r]*")
_LINE_END: Final = re.compile(r"\r\n|\n|\r")
_Trie = dict[int, "_Trie"]


class Extent(Struct, frozen=True, kw_only=True):
    """Offsets of a value, and of the name before it where it is a member of an object."""

    start: int
    end: int
    name_start: int
    name_end: int


def locate(text: str, wanted: Iterable[Ordinals]) -> dict[Ordinals, Extent]:
    """Find some values in one pass over a text that is known to be good JSON.

    Only what encloses a wanted value is walked through; everything else is skipped by the
    compiled scanner, so that a megabyte costs milliseconds.
    """
    trie: _Trie = {}
    asked = tuple(wanted)
    for path in asked:
        node = trie
        for step in path:
            node = node.setdefault(step, {})
    found: dict[Ordinals, Extent] = {}
    start, end = _behind(_BLANK, text, 0), len(text.rstrip(" \t\n\r"))
    if trie:
        _Walk(text=text, asked=frozenset(asked), found=found).descend(
            start, (), trie, is_end_needed=False
        )
    found[()] = Extent(start=start, end=end, name_start=start, name_end=start + 1)
    return found


def ordinals(value: Json, paths: Iterable[Path]) -> dict[Path, Ordinals]:
    """Turn paths by name into paths by number; each path must lead to something."""
    numbers: dict[int, dict[str, int]] = {}
    out: dict[Path, Ordinals] = {}
    for path in paths:
        node, steps = value, []
        for step in path:
            if isinstance(node, dict):
                if id(node) not in numbers:
                    numbers[id(node)] = {name: i for i, name in enumerate(node)}
                steps.append(numbers[id(node)][str(step)])
            else:
                steps.append(int(step))
            node = node[step]
        out[path] = tuple(steps)
    return out


def _line_starts(text: str) -> Iterator[int]:
    """Yield where each line but the first begins."""
    if "\r" in text:
        yield from (end.end() for end in _LINE_END.finditer(text))
        return
    start = 0
    for line in text.split("\n")[:-1]:
        start += len(line) + 1
        yield start


class Lines:
    """Lines of a text, to turn offsets into places."""

    def __init__(self, path: str, text: str) -> None:
        """Keep where each line of the text of that file begins."""
        self._path = path
        self._starts = [0, *_line_starts(text)]

    def span(self, start: int, end: int) -> Span:
        """Return the place from one offset to another."""
        line, column = self._place(start)
        return Span(self._path, line, column, *self._place(end))

    def _place(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1


class _Walk(Struct, frozen=True, kw_only=True):
    """One pass over a text; ``found`` is filled on the way with what is asked for."""

    text: str
    asked: frozenset[Ordinals]
    found: dict[Ordinals, Extent]

    def descend(self, start: int, path: Ordinals, wanted: _Trie, *, is_end_needed: bool) -> int:
        """Walk through the value at an offset and return the offset behind it.

        Where nobody needs its end, what follows the last wanted member is left unread, and
        the offset means nothing.
        """
        text = self.text
        if not wanted or text[start] not in "{[":
            return _end_of(text, start)
        at = _behind(_BLANK, text, start + 1)
        last = max(wanted)
        for number in range(last + 1):
            name_start = name_end = at
            if text[start] == "{":
                name_end = _end_of(text, at)
                at = _behind(_COLON, text, name_end)
            child = wanted.get(number)
            if child is None:
                at = _behind(_COMMA, text, _end_of(text, at))
                continue
            here = (*path, number)
            is_asked, is_last = here in self.asked, number == last
            end = self.descend(at, here, child, is_end_needed=is_asked or not is_last)
            if is_asked:
                self.found[here] = Extent(
                    start=at, end=end, name_start=name_start, name_end=name_end
                )
            if not is_last:
                at = _behind(_COMMA, text, end)
        return _end_of(text, start) if is_end_needed else start


_DECODER: Final = json.JSONDecoder(parse_int=str, parse_float=str)


def _end_of(text: str, start: int) -> int:
    return _DECODER.raw_decode(text, start)[1]


def _behind(pattern: re.Pattern[str], text: str, at: int) -> int:
    match = pattern.match(text, at)
    return match.end() if match else at
