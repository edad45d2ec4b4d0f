"""A hole is nearer to an end than AISC 360-05 allows where that end is sheared.

What it checks: only under AISC 360-05, which told sheared edges from rolled, sawn and cut ones:
the distance of each hole and slot for a bolt from the line of the end cuts, from the least
distance at a cut edge up to that at a sheared one. For angles the smaller figure for the ends of
beam connection angles is taken. Later editions have one column.

Why: shearing leaves fine cracks in the edge, from which a hole near it tears out.

What to do: saw the end, lengthen the piece, or judge by a later edition.

Reference: AISC 360-05 Tables J3.4 (from memory) and J3.4M
"""

import math
from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.ends import end_line
from translator.model import Angle
from translator.rules._bolts import Bolted
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_less, whose, words
from translator.rules._practice import Practice
from translator.rules._rule import Example, Rule, Violation
from translator.tables.edge_distances import edge_distance_min

EDITION: Final = "360-05"


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole between the least distances to a cut and to a sheared end."""
    is_angle = isinstance(facts.part.section, Angle)
    for one in facts.bolted:
        name = one.bolt.name
        if one.bolt.code != "us":
            continue
        cut = edge_distance_min(name, "us", EDITION)
        sheared = edge_distance_min(
            name, "us", EDITION, is_sheared=True, is_beam_connection_end=is_angle
        )
        value = _to_end(facts, one)
        if cut is None or sheared is None or is_less(value, cut) or not is_less(value, sheared):
            continue
        yield Violation(
            message=f"{named(one.feature)} is {facts.length(value)} from the end, less than"
            f" {words(facts, sheared)} if it is sheared {whose(sheared.source, one.bolt)}",
            element=path_of(one.leg, one.feature),
            value=value,
            limit=sheared.mm,
        )


def _to_end(facts: Facts, one: Bolted) -> float:
    """Return the distance of a hole's centre to the nearer of both end lines."""
    distances = []
    for end in ("start", "far"):
        line = end_line(facts.part, end, one.leg)
        away = abs(one.feature.x_mm - line.at(one.feature.y_mm))
        distances.append(away / math.hypot(1.0, line.slope))
    return min(distances)


def _applies(practice: Practice) -> str:
    is_old = practice.us_edition == EDITION and practice.code in ("us", "auto")
    return "" if is_old else "only AISC 360-05 tells sheared edges from others"


RULE: Final = Rule(
    name="sheared-end-distance-short",
    title="a hole is too near to an end that is sheared",
    severity=Severity.WARNING,
    scope="part",
    reference="AISC 360-05 Tables J3.4 (from memory) and J3.4M",
    check=check,
    passing=(
        Example(
            settings='practice = "us"\nedition = "360-05"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/2 at 1-1/4   holes bolt 7/8 gauge 2-1/2 at 1-1/4 from far }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"\nedition = "360-05"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/2 at 1-1/8 }    # <--
}
""",
        ),
    ),
    applies=_applies,
)
