"""Lines of bolts of parts that are said to be in contact, for the greatest distances."""

from collections.abc import Iterator
from typing import Final

from msgspec import Struct

from translator.geometry.ends import end_line
from translator.model import Flat, LegName, OutlineTrim, leg_names, leg_of, leg_width
from translator.rules._bolts import Bolted
from translator.rules._facts import Facts
from translator.rules._practice import Practice

ROW_MM: Final = 1.0
"""Holes whose gauges differ by less stand in one line."""


class Outer(Struct, frozen=True, kw_only=True):
    """The bolt of the outer line that is nearest to an edge of its leg.

    Attributes:
        one: the bolt.
        edge: in words, "start end".
        mm: from its centre to that edge.
        nearest_mm: from its centre to the nearest edge of all.
    """

    one: Bolted
    edge: str
    mm: float
    nearest_mm: float


def outer_bolts(facts: Facts) -> Iterator[Outer]:
    """Yield, for each end and edge of a leg, the bolt nearest to it.

    A leg with trims is left out: the edge that counts is then not the leg's own.
    """
    for leg, holes in _by_leg(facts).items():
        if leg_of(facts.part, leg).trims or not holes:
            continue
        measured = [(one, _distances(facts, one)) for one in holes]
        for edge in measured[0][1]:
            one, distances = min(measured, key=lambda item: item[1][edge])
            nearest = min(distances.values())
            yield Outer(one=one, edge=edge, mm=distances[edge], nearest_mm=nearest)


def rows(facts: Facts) -> Iterator[tuple[Bolted, ...]]:
    """Yield the lines of bolts along each leg, each in order of x."""
    for leg, holes in _by_leg(facts).items():
        if any(isinstance(trim, OutlineTrim) for trim in leg_of(facts.part, leg).trims):
            continue
        row: list[Bolted] = []
        for one in sorted(holes, key=lambda o: (o.feature.y_mm, o.feature.x_mm)):
            if row and one.feature.y_mm - row[-1].feature.y_mm >= ROW_MM:
                yield tuple(sorted(row, key=lambda o: o.feature.x_mm))
                row = []
            row.append(one)
        yield tuple(sorted(row, key=lambda o: o.feature.x_mm))


def needs_contact(practice: Practice) -> str:
    """Return why a rule on parts in contact does not apply, "" where it does."""
    if practice.code == "none":
        return 'the practice is "none"'
    return "" if practice.contact else "no part is said to be in contact"


def _by_leg(facts: Facts) -> dict[LegName, list[Bolted]]:
    legs: dict[LegName, list[Bolted]] = {leg: [] for leg in leg_names(facts.part)}
    if facts.practice.is_in_contact(facts.part.mark):
        for one in facts.bolted:
            legs[one.leg].append(one)
    return legs


def _distances(facts: Facts, one: Bolted) -> dict[str, float]:
    part, x, y = facts.part, one.feature.x_mm, one.feature.y_mm
    width = leg_width(part.section, one.leg)
    is_flat = isinstance(part.section, Flat)
    found = {
        "start end": x - end_line(part, "start", one.leg).at(y),
        "far end": end_line(part, "far", one.leg).at(y) - x,
        "upper edge" if is_flat else "toe": width - y,
    }
    return {**found, "lower edge": y} if is_flat else found
