"""A slot is longer than a short slot and shorter than a long one, so it counts as long.

What it checks: slots for a bolt, stated or taken from the width, whose overall length is more
than that of the bolt's short slot and less than that of its long slot.

Why: the tables give the most of each class, so a 13/16 x 1-1/4 in. slot for a 3/4 bolt is a long
slot: 1-1/4 is more than 1. A long slot asks for a plate washer and more edge distance, and the
detailer may not have meant it.

What to do: nothing if a long slot is meant; else shorten it.

Reference: us: AISC 360-22 Tables J3.3 and J3.3M, AISC FAQ 5.1.1; eu: EN 1090-2:2018 Table 11
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import whose
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.holes import ROUNDING_MM, classify_slot


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each slot between the lengths of the short and the long slot."""
    for leg, feature in facts.slots:
        meant = facts.bolts.get(feature.id)
        if meant is None:
            continue
        sizes, length = meant.sizes, feature.length_mm
        size = classify_slot(feature.width_mm, length, meant.name, meant.code, meant.edition)
        if size != "long" or sizes is None or length >= sizes.long_slot_l.mm - ROUNDING_MM:
            continue
        yield Violation(
            message=f"{named(feature)} is {facts.length(length)} long, more than the"
            f" {sizes.short_slot_l.text} of a short slot, and counts as a long one"
            f" {whose(sizes.source, meant)}",
            element=path_of(leg, feature),
            value=length,
            limit=sizes.short_slot_l.mm,
        )


RULE: Final = Rule(
    name="slot-longer-than-short",
    title="a slot is too long for a short slot and counts as long",
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
    slots 13/16 x 1 along leg gauge 2-1/2 at 2
    slots 13/16 x 1-7/8 along leg gauge 2-1/2 at 6
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
  leg a { slots 13/16 x 1-1/4 along leg gauge 2-1/2 at 2 }    # <--
}
""",
        ),
    ),
    applies=needs_code,
)
