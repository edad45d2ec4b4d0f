"""Bolts in the two legs of an angle are in each other's way when they are tightened.

What it checks: for bolts in inches, each bolt of leg b against those of leg a: how far they are
apart along the piece, against the stagger of the table for the room between each bolt and the
other leg. Less is a note: one of the two is tightened first, or the heads lie inside. Where no
order helps, since the socket does not clear even the head of the other bolt, it is a warning
for stated bolts. The worst pair of a piece is told, with the number of others. There is no table
for metric bolts here.

Why: the second bolt stands in the way of the wrench on the first.

What to do: stagger the legs, take larger gauges, or tell the site in which order to tighten.

Reference: AISC Manual LRFD 2nd ed. Table 8-4 (later 7-15 and 7-16); its use from memory
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import Final

from msgspec import Struct

from translator.findings import Severity
from translator.model import on_grid
from translator.rules._bolts import Bolted, beside_each_other
from translator.rules._edge_distances import faces_other_leg
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._limits import come_by
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.clearances import WrenchRoom, stagger_min, wrench_room

WIDEST_MM: Final = 75.0
"""No stagger of the table is as much."""

MOST_COMPARED: Final = 50
"""Bolts of the other leg looked at for each; real pieces have two or three as near."""


class _Stand(Struct, frozen=True, kw_only=True):
    """A bolt, its room, and what is needed beside it, in millimetres once for all."""

    one: Bolted
    room: WrenchRoom
    to_leg_mm: float
    is_possible: bool
    least_mm: float
    head_mm: float
    socket_mm: float


class _Clash(Struct, frozen=True, kw_only=True):
    """Two bolts that can't both be tightened in any order."""

    stand: _Stand
    other: _Stand
    is_possible: bool
    apart_mm: float
    need_mm: float

    @property
    def severity(self) -> Severity:
        """A warning where no order helps and both bolts are stated, else a note."""
        is_stated = self.stand.one.bolt.is_stated and self.other.one.bolt.is_stated
        return Severity.WARNING if is_stated and not self.is_possible else Severity.NOTE

    @property
    def rank(self) -> tuple[int, bool, float, float]:
        """The worst first."""
        return self.severity.rank, self.is_possible, self.apart_mm, -self.need_mm


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the worst pair of bolts in each other's way, and how many bolts of leg b it is."""
    near = beside_each_other(facts.bolted, WIDEST_MM)
    stands = [stand for one in near if (stand := _stand(facts, one)) is not None]
    leg_a = sorted((s for s in stands if s.one.leg == "a"), key=lambda s: s.one.feature.x_mm)
    places = [stand.one.feature.x_mm for stand in leg_a]
    found: list[_Clash] = []
    for stand in stands:
        if stand.one.leg == "b":
            x = stand.one.feature.x_mm
            first, last = bisect_left(places, x - WIDEST_MM), bisect_right(places, x + WIDEST_MM)
            others = leg_a[first : min(last, first + MOST_COMPARED)]
            found += [c for other in others if (c := _clash(stand, other)) is not None]
    if found:
        yield _violation(facts, found)


def _stand(facts: Facts, one: Bolted) -> _Stand | None:
    room = wrench_room(one.bolt.name)
    to_leg = one.feature.y_mm - facts.part.section.thickness_mm
    stagger = None if room is None or to_leg <= 0.0 else stagger_min(one.bolt.name, to_leg)
    if room is None or stagger is None or not faces_other_leg(facts, one):
        return None
    return _Stand(
        one=one,
        room=room,
        to_leg_mm=to_leg,
        is_possible=stagger.is_possible,
        least_mm=stagger.least.mm,
        head_mm=room.head.mm,
        socket_mm=room.socket.mm,
    )


def _clash(stand: _Stand, other: _Stand) -> _Clash | None:
    apart = on_grid(abs(stand.one.feature.x_mm - other.one.feature.x_mm))
    tight = [s for s in (stand, other) if not _is_free(s, apart)]
    if not tight or not any(s.is_possible for s in (stand, other)):
        return None  # a bolt too near to the other leg is told as such
    return _Clash(
        stand=stand,
        other=other,
        is_possible=_may_be_last(stand, other, apart) or _may_be_last(other, stand, apart),
        apart_mm=apart,
        need_mm=max(s.least_mm for s in tight),
    )


def _violation(facts: Facts, found: Sequence[_Clash]) -> Violation:
    worst = min(found, key=lambda clash: clash.rank)
    stand, other = worst.stand, worst.other
    how = "tighten one first or set the heads inside" if worst.is_possible else "no order helps"
    again = f", and {len(found) - 1} more such" if len(found) > 1 else ""
    return Violation(
        message=f"{named(stand.one.feature)} is {facts.length(worst.apart_mm)} along the piece from"
        f" a bolt of the other leg{again}, less than {facts.length(worst.need_mm)} to tighten"
        f" both; {how} ({come_by(stand.one.bolt, other.one.bolt)}; {stand.room.source.reference})",
        element=path_of(stand.one.leg, stand.one.feature),
        value=worst.apart_mm,
        limit=worst.need_mm,
        severity=worst.severity,
        related=((path_of(other.one.leg, other.one.feature), "the other bolt"),),
    )


def _is_free(stand: _Stand, apart_mm: float) -> bool:
    """Tell whether a bolt can be tightened beside one that is there, shank inside."""
    enough = apart_mm >= stand.least_mm - HALF_LAST_DECIMAL_MM
    return stand.is_possible and enough


def _may_be_last(stand: _Stand, other: _Stand, apart_mm: float) -> bool:
    """Tell whether a bolt can be tightened after the other, whose head lies inside."""
    left = stand.to_leg_mm - other.head_mm
    return _is_free(stand, apart_mm) or left >= stand.socket_mm / 2.0


RULE: Final = Rule(
    name="opposite-bolts-close",
    title="bolts in the two legs are in each other's way",
    severity=Severity.WARNING,
    scope="part",
    reference="AISC Manual LRFD 2nd ed. Table 8-4 (later 7-15 and 7-16); its use from memory",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/2 at 1-1/4, 5-1/4 }
  leg b { holes bolt 3/4 gauge 2-1/2 at 3-1/4, 8 }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/2 at 1-1/4, 5-1/4 }
  leg b { holes bolt 3/4 gauge 2-1/2 at 1-1/4 }            # <--
}
""",
        ),
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C2 {
  section L5x3-1/2x3/8
  length 8-1/2
  leg a { holes bolt 7/8 gauge 2 at 1-1/2 }
  leg b { holes bolt 7/8 gauge 2 at 1-1/2 }                # <--
}
""",
        ),
    ),
    applies=needs_code,
)
