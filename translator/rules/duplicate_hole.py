"""A hole, slot, opening or mark is given twice at one place.

What it checks: features of one kind and size on the same leg, and of the same depth, whose
places are within 0.01 mm of each other; every one after the first is reported.

Why: the machine makes the hole twice. Punched, the second stroke shaves a side and may break
the punch; drilled, it costs time. Often the second was meant to lie elsewhere.

What to do: look whether the second hole should lie elsewhere; if not, take it out.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each feature that repeats an earlier one."""
    for leg, feature in facts.features:
        first = facts.repeats.get(feature.id)
        if first is not None:
            yield Violation(
                message=f"{named(feature)} repeats {named(first)}: the same size at the same place",
                element=path_of(leg, feature),
                related=((path_of(leg, first), "the first"),),
            )


RULE: Final = Rule(
    name="duplicate-hole",
    title="a hole is given twice at one place",
    severity=Severity.WARNING,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes 22 gauge 50 at 40, 110 }
  leg b { holes 22 gauge 50 at 40, 110 }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a {
    holes 22 gauge 50 at 40, 110
    holes 22 gauge 50 at 110.01      # <--
  }
}
"""
        ),
    ),
)
