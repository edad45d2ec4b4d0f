"""A slot is longer than the long slot of its bolt.

What it checks: the overall length of slots for a bolt against the long slot of the bolt. A bolt
that is stated makes it an error; where it is taken from the width it is a note, since the slot
may be for something else.

Why: beyond it the tables have no slot; washers and strength are the engineer's own matter.

What to do: shorten the slot, or have it approved and waive the finding.

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
    """Yield each slot that is longer than the long slot of its bolt."""
    for leg, feature in facts.slots:
        meant = facts.bolts.get(feature.id)
        if meant is None:
            continue
        sizes, length = meant.sizes, feature.length_mm
        size = classify_slot(feature.width_mm, length, meant.name, meant.code, meant.edition)
        if size == "too-long" and sizes is not None:
            is_stated = meant.is_stated
            yield Violation(
                message=f"{named(feature)} is {facts.length(length)} long, more than the"
                f" {sizes.long_slot_l.text} of a long slot {whose(sizes.source, meant)}",
                element=path_of(leg, feature),
                value=length,
                limit=sizes.long_slot_l.mm,
                severity=weight(sizes.source, meant) if is_stated else Severity.NOTE,
            )


RULE: Final = Rule(
    name="slot-too-long",
    title="a slot is longer than the long slot of its bolt",
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
  leg a {
    slots 22 x 50.01 along leg bolt M20 gauge 50 at 100    # <--
    slots 18 x 80 along leg gauge 50 at 250                # <--
  }
}
""",
        ),
    ),
    applies=needs_code,
)
