"""A slot is wider than a slot of its stated bolt may be.

What it checks: the width of each slot with a stated bolt against the width of the bolt's slots,
which is that of its standard hole.

Why: slots have no oversize width; the bolt tips, and its head pulls through.

What to do: hold bolt and slot against the drawing.

Reference: us: AISC 360-22 Tables J3.3 and J3.3M (from open transcriptions); eu: EN 1090-2:2018
Table 11
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import weight, whose
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.holes import classify_slot


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each slot that is wider than the slots of its stated bolt."""
    for leg, feature in facts.slots:
        meant = facts.bolts.get(feature.id)
        if meant is None or not meant.is_stated:
            continue
        sizes, width = meant.sizes, feature.width_mm
        size = classify_slot(width, feature.length_mm, meant.name, meant.code, meant.edition)
        if size == "too-wide" and sizes is not None:
            yield Violation(
                message=f"{named(feature)} is {facts.length(width)} wide, more than the"
                f" {sizes.short_slot_w.text} of a slot {whose(sizes.source, meant)}",
                element=path_of(leg, feature),
                value=width,
                limit=sizes.short_slot_w.mm,
                severity=weight(sizes.source, meant),
            )


RULE: Final = Rule(
    name="slot-too-wide",
    title="a slot is wider than the slots of its bolt",
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
  leg a { slots 22 x 50 along leg bolt M20 gauge 50 at 100 }
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
  leg a { slots 22.01 x 50 along leg bolt M20 gauge 50 at 100 }    # <--
}
""",
        ),
    ),
    applies=needs_code,
)
