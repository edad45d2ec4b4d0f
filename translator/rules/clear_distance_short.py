"""Two holes or slots for bolts leave less steel between them than one bolt's diameter.

What it checks: under us, from 360-16 on, the clear distance between the edges of holes and slots
for bolts on one leg: one diameter of the larger bolt. Round holes keep it where their spacing
is right, so it is slots that fall short. A bolt that is stated makes it an error, one taken from
the hole's size a warning; under 360-16 the figure is from memory and warns.

Why: the strip between two slots carries the bearing of one of the bolts.

What to do: widen the pitch, shorten the slots or turn them. A shop limit stands in [limits]
clear-distance-short.

Reference: AISC 360-22 J3.4; 360-16 J3.3 (from memory); none in 360-10 and before
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import weight, whose, words
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.rules._spacing import bolt_pairs, too_little_between, too_tight


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole for a bolt with too little steel to an earlier one."""
    told: set[str] = set()
    for it in bolt_pairs(facts):
        limit, second = too_little_between(facts, it), it.pair.second
        if limit is None or second.id in told or too_tight(facts, it) is not None:
            continue
        told.add(second.id)
        yield Violation(
            message=f"{named(second)} leaves {facts.length(it.pair.clear_mm)} clear to its"
            f" neighbour, less than {words(facts, limit)} {whose(limit.source, *it.bolts)}",
            element=path_of(it.pair.leg, second),
            value=it.pair.clear_mm,
            limit=limit.mm,
            severity=weight(limit.source, *it.bolts),
            related=((path_of(it.pair.leg, it.pair.first), "its neighbour"),),
        )


RULE: Final = Rule(
    name="clear-distance-short",
    title="two holes for bolts leave too little steel between them",
    severity=Severity.ERROR,
    scope="part",
    reference="AISC 360-22 J3.4; 360-16 J3.3 (from memory); none in 360-10 and before",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { slots 13/16 x 1-7/8 along leg bolt 3/4 gauge 2-1/4 at 3, 5-5/8 }
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
    slots 13/16 x 1-7/8 along leg bolt 3/4 gauge 2-1/4 at 3
    slots 13/16 x 1-7/8 along leg bolt 3/4 gauge 2-1/4 at 5-9/16    # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
    limit=("d", "d0", "t", ""),
)
