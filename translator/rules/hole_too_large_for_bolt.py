"""A hole is larger than any hole its stated bolt may have.

What it checks: round holes with a stated bolt against the oversize hole of the bolt.

Why: head and nut cover too little steel, and the bolt slips before it bears.

What to do: hold bolt and hole against the drawing. Holes of anchor rods are told as `rod`.

Reference: us: AISC 360-22 Tables J3.3 and J3.3M (from open transcriptions); eu: EN 1090-2:2018
Table 11
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import is_tapped
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import weight, whose
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.holes import classify_hole


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each round hole that is beyond the oversize hole of its stated bolt."""
    for leg, feature in facts.holes:
        meant = facts.bolts.get(feature.id)
        if meant is None or not meant.is_stated or is_tapped(feature):
            continue
        sizes = meant.sizes
        size = classify_hole(feature.diameter_mm, meant.name, meant.code, meant.edition)
        if sizes is not None and size == "too-large":
            yield Violation(
                message=f"{named(feature)} of {facts.length(feature.diameter_mm)} is larger than"
                f" the oversize hole of {sizes.oversize.text} {whose(sizes.source, meant)}",
                element=path_of(leg, feature),
                value=feature.diameter_mm,
                limit=sizes.oversize.mm,
                severity=weight(sizes.source, meant),
            )


RULE: Final = Rule(
    name="hole-too-large-for-bolt",
    title="a hole is larger than any hole of its bolt",
    severity=Severity.ERROR,
    scope="part",
    reference="us: AISC 360-22 Tables J3.3 and J3.3M (from open transcriptions); eu: EN 1090-2:2018"
    " Table 11",
    check=check,
    passing=(
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes 24 bolt M20 gauge 50 at 60   holes 40 rod gauge 50 at 200 }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 24.01 bolt M20 gauge 50 at 60    # <--
    holes 28 bolt M20 gauge 50 at 200      # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
)
