"""The steel is too thin for the thread of a tapped hole.

What it checks: the thickness, or the depth of a blind hole, against half the thread's diameter.

Why: a thread that short strips before the bolt is tight; a full thread needs about one diameter.

What to do: take a smaller thread, weld a nut on, or use a through bolt. A shop limit stands in
[limits] tapped-hole-thin.

Reference: common practice, no source
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import is_tapped
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import in_unit, is_less, shop_limit, words
from translator.rules._rule import Example, Rule, Violation
from translator.tables.figures import Limit, Source, exact

SHARE: Final = Fraction(1, 2)
"""Least thickness as a share of the thread's diameter."""

_SOURCE: Final = Source(title="common practice, no source", edition="", trust="common practice")


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each tapped hole with too short a thread."""
    thickness = facts.part.section.thickness_mm
    for leg, feature in facts.holes:
        if not is_tapped(feature):
            continue
        value = min(thickness, feature.depth_mm or thickness)
        usual = in_unit(SHARE * exact(feature.diameter_mm), facts.part.units)
        own = shop_limit(facts, "tapped-hole-thin", hole_mm=feature.diameter_mm)
        limit = own or Limit(measure=usual, source=_SOURCE)
        if is_less(value, limit):
            yield Violation(
                message=f"{named(feature)} has {facts.length(value)} of thread, less than"
                f" {words(facts, limit)} for a thread of {facts.length(feature.diameter_mm)}",
                element=path_of(leg, feature),
                value=value,
                limit=limit.mm,
            )


RULE: Final = Rule(
    name="tapped-hole-thin",
    title="the steel is too thin for a tapped hole",
    severity=Severity.WARNING,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part F1 { section FB100x10  length 300  face { holes 20 tapped gauge 50 at 60 } }
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part F1 {
  section FB100x9.99
  length 300
  face { holes 20 tapped gauge 50 at 60 }    # <--
}
"""
        ),
    ),
    limit=("d0", ""),
)
