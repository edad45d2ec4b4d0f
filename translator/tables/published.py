"""What the tables of practice share: rows of a shipped table, their cells, editions.

A practice is "us" (AISC 360, inch and metric tables) or "eu" (EN 1993-1-8:2005, EN 1090-2). Its
edition is that of AISC 360 ("360-22") or of EN 1090-2 ("2018"); None means the newest here.
"""

import csv
import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Final

from translator.errors import UnknownNameError
from translator.lengths.parse import Unit
from translator.tables.figures import TRUSTS, Measure, Source

EDITIONS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {"us": ("360-22", "360-16", "360-10", "360-05"), "eu": ("2018", "2008+A1")}
)
"""Editions of each practice, newest first. 360-05 is there for its sheared edges."""

_DATA: Final = Path(__file__).with_name("data")
_FORMULA: Final = re.compile(r"(?P<times>[0-9./-]+) d|d \+ (?P<plus>[0-9./-]+)|(?P<flat>[0-9./-]+)")
_BOUND: Final = re.compile(r"(?P<sign>[<>]=?)(?P<size>[0-9./-]+)")


@cache
def table(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of a shipped table, read once; lines that begin with ``#`` are its notes."""
    with (_DATA / name).open(encoding="utf-8", newline="") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return tuple(MappingProxyType(row) for row in rows)


def edition_of(practice: str, edition: str | None = None) -> str:
    """Return the edition, the newest of the practice for None.

    Raises:
        UnknownNameError: for a practice or an edition that the tables do not have.
    """
    known = EDITIONS.get(practice)
    if known is None:
        raise UnknownNameError(f"{practice!r} is no practice: it is {_or(tuple(EDITIONS))}")
    if edition is None:
        return known[0]
    if edition not in known:
        raise UnknownNameError(
            f"{edition!r} is no edition of the practice {practice!r}: it is {_or(known)}"
        )
    return edition


def source_of(row: Mapping[str, str], edition: str | None = None) -> Source:
    """Return the source that a row names, with the edition asked or the row's own filled in."""
    named = row["edition"] if edition is None else edition
    trust = next(trust for trust in TRUSTS if trust == row["trust"])
    return Source(title=row["source"].replace("{edition}", named), edition=named, trust=trust)


def number(text: str) -> Fraction:
    """Return a table's number exactly: ``13/16``, ``1-1/4``, ``67.5``, ``-1/16``.

    Raises:
        ValueError: for anything else, a fault of the table.
    """
    sign, digits = (-1, text[1:]) if text.startswith("-") else (1, text)
    whole, _, rest = digits.rpartition("-")
    return sign * ((Fraction(whole) if whole else 0) + Fraction(rest))


def figure(cell: str, unit: Unit, size: Fraction | None = None) -> Measure | None:
    """Return what a cell says: a number, ``2.5 d`` or ``d + 1/8`` with d the size; None if blank.

    Raises:
        ValueError: for anything else, a fault of the table.
    """
    if not cell:
        return None
    found = _FORMULA.fullmatch(cell)
    if found is None or (size is None and found["flat"] is None):
        raise ValueError(f"a table has the cell {cell!r}")
    if found["flat"]:
        return Measure(value=number(found["flat"]), unit=unit)
    d = size or Fraction(0)
    value = d * number(found["times"]) if found["times"] else d + number(found["plus"])
    return Measure(value=value, unit=unit)


def is_within(size: Fraction, bounds: tuple[str, str]) -> bool:
    """Tell whether a size lies within bounds such as ``(">3", "<=4")``; blank is no bound."""
    return all(_is_met(size, bound) for bound in bounds if bound)


def _is_met(size: Fraction, bound: str) -> bool:
    found = _BOUND.fullmatch(bound)
    if found is None:
        raise ValueError(f"a table has the bound {bound!r}")
    limit = number(found["size"])
    return {
        "<": size < limit,
        "<=": size <= limit,
        ">": size > limit,
        ">=": size >= limit,
    }[found["sign"]]


def _or(names: tuple[str, ...]) -> str:
    *most, last = (repr(name) for name in names)
    return f"{', '.join(most)} or {last}"
