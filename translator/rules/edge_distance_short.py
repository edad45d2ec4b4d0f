"""A hole is nearer to an edge along the piece than its bolt asks for.

What it checks: each hole and slot for a bolt against the edges that run along its leg: the toe,
both edges of a flat, the edges of copes and notches; not the heel, where the other leg goes on.
us: from the centre, the least edge distance of the bolt, with C2 for an oversize hole or a slot
that points at the edge (less half of what the slot is shorter than its class allows). eu: 1.2 d0
from the centre of a hole, 1.5 d0 from the axis of a slot. A bolt that is stated makes it an
error, one taken from the hole's size a warning, and a figure from memory (C2 since 360-10) a
warning.

Why: the steel beside the hole is too narrow; it splits or bulges.

What to do: move the line of holes or take a wider leg. Under us less than the table is the
engineer's decision, and less than one bolt diameter needs the approval of the engineer of
record. A shop limit stands in [limits] edge-distance-short.

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
    """Yield each hole and slot for a bolt that is too near to an edge along the piece."""
    yield from short_distances(facts, "edge", "edge-distance-short")


RULE: Final = Rule(
    name="edge-distance-short",
    title="a hole is too near to an edge along the piece",
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
part B1 {
  section L3x3x1/4
  length 4'-0
  leg a {
    holes bolt 3/4 gauge 2 at 2, 5            # 1 in. from the toe is the least
    slots 13/16 x 1-7/8 along leg bolt 3/4 gauge 2 at 12
    holes 15/16 vent gauge 2-1/4 at 20
  }
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part B2 {
  section L90x90x10
  length 600
  leg a {
    holes bolt M20 gauge 63.6 at 60
    slots 22 x 50 along leg bolt M20 gauge 57 at 200
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
part B1 {
  section L3x3x1/4
  length 4'-0
  leg a {
    holes bolt 3/4 gauge 2-1/16 at 2                              # <--
    slots 13/16 x 1-7/8 across leg bolt 3/4 gauge 1-15/16 at 12   # <--
    holes 13/16 gauge 2-1/16 at 20                                # <--
  }
}
""",
        ),
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part B2 {
  section L90x90x10
  length 600
  leg a {
    holes bolt M20 gauge 63.61 at 60                      # <--
    slots 22 x 50 along leg bolt M20 gauge 57.01 at 200   # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
    limit=("d", "d0", "t", ""),
)
