"""A hole is nearer to an end of the piece than its bolt asks for.

What it checks: each hole and slot for a bolt against the ends of its leg, mitres counted, and
the sides of copes and notches that run across the piece. us: from the centre, the least edge
distance of the bolt, with C2 for an oversize hole or a slot that points at the end (less half
of what the slot is shorter than its class allows). eu: 1.2 d0 from the centre of a hole, 1.5 d0
from the axis of a slot between its end radii. A bolt that is stated makes it an error, one
taken from the hole's size a warning, and a figure from memory (C2 since 360-10) a warning.

Why: the steel between hole and end tears out before the bolt carries its load.

What to do: move the hole or lengthen the piece. Under us less than the table is the engineer's
decision, and less than one bolt diameter needs the approval of the engineer of record. A shop
limit stands in [limits] end-distance-short.

Reference: us: AISC 360-22, -16, -10 or -05 Tables J3.4 and J3.5 (C2 since 360-10 from memory);
eu: EN 1993-1-8:2005 Table 3.3
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._edge_distances import short_distances
from translator.rules._facts import Facts
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole and slot for a bolt that is too near to an end."""
    yield from short_distances(facts, "end", "end-distance-short")


RULE: Final = Rule(
    name="end-distance-short",
    title="a hole is too near to an end of the piece",
    severity=Severity.ERROR,
    scope="part",
    reference="us: AISC 360-22, -16, -10 or -05 Tables J3.4 and J3.5 (C2 since 360-10 from memory);"
    " eu: EN 1993-1-8:2005 Table 3.3",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a {
    holes bolt 3/4 gauge 2-1/2 at 1, 4, 7     # 1 in. is the least
    slots 13/16 x 1 along leg bolt 3/4 gauge 2-1/2 at 1-1/8 from far
  }
  leg b { holes 1 rod gauge 2-1/2 at 3/4 }
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part C2 {
  section L90x90x10
  length 220
  leg a {
    holes bolt M20 gauge 50 at 26.4
    slots 22 x 26 along leg bolt M20 gauge 50 at 35 from far
  }
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
  leg a {
    holes bolt 3/4 gauge 2-1/2 at 15/16                                 # <--
    slots 13/16 x 1 along leg bolt 3/4 gauge 2-1/2 at 1-1/16 from far   # <--
  }
  leg b { holes 13/16 gauge 2-1/2 at 7/8 from far }                     # <--
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part C2 {
  section L90x90x10
  length 220
  leg a {
    holes bolt M20 gauge 50 at 26.39                                 # <--
    slots 22 x 26 along leg bolt M20 gauge 50 at 34.99 from far      # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
    limit=("d", "d0", "t", ""),
)
