"""What JSON readers let pass and a document must not hold: fields twice, endless numbers."""

import json
import math
from collections.abc import Iterator
from typing import Any, Final

from translator.documents.locate import Json, Lines, Ordinals, locate
from translator.findings import Finding, Severity
from translator.source import Span

LONGEST_NUMBER: Final = 40
"""Digits of a whole number; more than any length or count could need."""

MOST_FAULTS: Final = 1000
"""Faults of one document that are worded one by one."""


def repeated_or_unusable(lines: Lines, text: str) -> Iterator[Finding]:
    """Name every repeated field and unusable number, each at its own place."""
    value = json.loads(
        text,
        object_pairs_hook=_Members,
        parse_int=_Digits,
        parse_float=_Digits,
        parse_constant=_Digits,
    )
    repeated, unusable = _search(value)
    more = max(len(repeated) - MOST_FAULTS, 0) + max(len(unusable) - MOST_FAULTS, 0)
    repeated = dict(sorted(repeated.items())[:MOST_FAULTS])
    unusable = sorted(unusable)[:MOST_FAULTS]
    extents = locate(text, [*repeated, *(first for first, _ in repeated.values()), *unusable])
    for path, (first, name) in repeated.items():
        here, there = extents[path], extents[first]
        line = lines.span(there.name_start, there.name_end).line
        message = f"the field {json.dumps(name)} stands here again; it stood on line {line} before"
        span = lines.span(here.name_start, here.name_end)
        yield _error("json-field-repeated", message, span)
    for path in unusable:
        here = extents[path]
        spelling = text[here.start : here.end]
        shown = spelling if len(spelling) <= LONGEST_NUMBER else f"{spelling[:LONGEST_NUMBER]}..."
        message = (
            f"{shown} is no number that can be used: it is not finite or has more than"
            f" {LONGEST_NUMBER} digits"
        )
        yield _error("json-number-unusable", message, lines.span(here.start, here.end))
    if more:
        message = f"there are {more} more fields or numbers like these, which are not listed"
        yield _error("json-field-repeated", message, lines.span(0, 0))


class _Members(tuple[tuple[str, Any], ...]):
    """Members of an object with the repeated ones kept."""

    __slots__ = ()


class _Digits(str):
    """A number as it is spelled."""

    __slots__ = ()


def _search(root: Json) -> tuple[dict[Ordinals, tuple[Ordinals, str]], list[Ordinals]]:
    """Return repeated fields (path -> path of the first, name) and unusable numbers."""
    repeated: dict[Ordinals, tuple[Ordinals, str]] = {}
    unusable: list[Ordinals] = []
    stack: list[tuple[Ordinals, Any]] = [((), root)]
    while stack:
        path, value = stack.pop()
        if isinstance(value, _Members):
            seen: dict[str, int] = {}
            for number, (name, member) in enumerate(value):
                if seen.setdefault(name, number) != number:
                    repeated[(*path, number)] = ((*path, seen[name]), name)
                stack.append(((*path, number), member))
        elif isinstance(value, list):
            stack.extend(((*path, number), member) for number, member in enumerate(value))
        elif isinstance(value, _Digits) and _is_unusable(value):
            unusable.append(path)
    return repeated, unusable


def _is_unusable(digits: str) -> bool:
    if digits.lstrip("-").isdecimal():
        return len(digits) > LONGEST_NUMBER
    return not math.isfinite(float(digits))


def _error(rule: str, message: str, span: Span) -> Finding:
    return Finding(rule=rule, severity=Severity.ERROR, message=message, span=span, unit="")
