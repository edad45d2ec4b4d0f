"""A hole is larger than the standard hole of its stated bolt: an oversize hole.

What it checks: round holes with a stated bolt, from the standard hole up to the oversize one;
14 mm for M12 and 16 mm for M14, which EN 1993-1-8 3.6.1(5) allows, are left out.

Why: the tables give the most of each class, so a hole 1/32 in. over is oversize already. An
oversize hole asks for a slip-critical connection, washers and more edge distance.

What to do: nothing if it is meant so; else make it the standard hole (`holes bolt 3/4`).

Reference: us: AISC 360-22 Tables J3.3 and J3.3M, AISC FAQ 5.1.1; eu: EN 1090-2:2018 Table 11
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import is_tapped
from translator.rules._facts import Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.holes import classify_hole


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each round hole that is oversize for its stated bolt."""
    for leg, feature in facts.holes:
        meant = facts.bolts.get(feature.id)
        if meant is None or not meant.is_stated or is_tapped(feature):
            continue
        sizes = meant.sizes
        size = classify_hole(feature.diameter_mm, meant.name, meant.code, meant.edition)
        if sizes is not None and size == "oversize":
            yield Violation(
                message=f"{named(feature)} of {facts.length(feature.diameter_mm)} is oversize: the"
                f" standard hole is {sizes.standard.text} ({meant.words};"
                f" {sizes.source.reference})",
                element=path_of(leg, feature),
                value=feature.diameter_mm,
                limit=sizes.standard.mm,
            )


RULE: Final = Rule(
    name="hole-oversize",
    title="a hole is oversize for its bolt",
    severity=Severity.NOTE,
    scope="part",
    reference="us: AISC 360-22 Tables J3.3 and J3.3M, AISC FAQ 5.1.1; eu: EN 1090-2:2018 Table 11",
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
    holes 13/16 bolt 3/4 gauge 2-1/2 at 1-1/4
    holes 15/16 gauge 2-1/2 at 5                 # the standard hole of a 7/8 bolt
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
    holes 15/16 bolt 3/4 gauge 2-1/2 at 1-1/4    # <--
    holes 27/32 bolt 3/4 gauge 2-1/2 at 5        # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
)
