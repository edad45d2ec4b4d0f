"""Two holes, slots or openings leave a strip of steel between them that is too thin.

What it checks: the clear distance between the edges of all holes, slots and openings of a leg.
Less than half the thickness is a warning; less than the whole thickness where one of both is to
be punched. Bolts that are too close by their code are told there (spacing-short,
clear-distance-short), holes that touch under holes-overlap.

Why: a strip that thin bends or tears when the second hole is punched, and a drill runs off into
the first; nobody draws it on purpose.

What to do: look which of both is in the wrong place. A shop limit stands in [limits]
thin-web-between-holes.

Reference: common practice, no source
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from translator.findings import Severity
from translator.model import Hole, Slot
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, on_leg, path_of
from translator.rules._limits import in_unit, is_less, shop_limit, words
from translator.rules._pairs import MOST_CLOSE, CutOut
from translator.rules._rule import Example, Rule, Violation
from translator.rules._spacing import is_said_of_bolts
from translator.tables.figures import Limit, Source, exact

SHARE: Final = Fraction(1, 2)
"""Of the thickness, for a hole that is not known to be punched."""

PUNCHED: Final = ("punch", "sub-punch-and-ream")

_SOURCE: Final = Source(title="common practice, no source", edition="", trust="common practice")


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each cut-out that leaves too little steel to an earlier one."""
    told: set[str] = set()
    usual, of_punched = _limit(facts, SHARE), _limit(facts, Fraction(1))
    for pair in facts.pairs:
        second = pair.second
        is_punched = _is_punched(pair.first) or _is_punched(second)
        limit = of_punched if is_punched else usual
        is_thin = pair.clear_mm >= HALF_LAST_DECIMAL_MM and is_less(pair.clear_mm, limit)
        if not is_thin or second.id in told or is_said_of_bolts(facts, pair):
            continue
        told.add(second.id)
        yield Violation(
            message=f"{named(second)} leaves {facts.length(pair.clear_mm)} of steel to its"
            f" neighbour, less than {words(facts, limit)}; the thickness is"
            f" {facts.length(facts.part.section.thickness_mm)}",
            element=path_of(pair.leg, second),
            value=pair.clear_mm,
            limit=limit.mm,
            related=((path_of(pair.leg, pair.first), "its neighbour"),),
        )
    for leg in facts.uncompared:
        yield Violation(
            message=f"more than {MOST_CLOSE} pairs of holes lie close together on {on_leg(leg)};"
            " the rest was not compared",
            element=f"legs.{leg}",
        )


def _limit(facts: Facts, share: Fraction) -> Limit:
    own = shop_limit(facts, "thin-web-between-holes")
    if own is not None:
        return own
    value = share * exact(facts.part.section.thickness_mm)
    return Limit(measure=in_unit(value, facts.part.units), source=_SOURCE)


def _is_punched(feature: CutOut) -> bool:
    return isinstance(feature, Hole | Slot) and feature.process in PUNCHED


RULE: Final = Rule(
    name="thin-web-between-holes",
    title="two holes leave a thin strip of steel between them",
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
  leg a {
    holes 18 gauge 50 at 40, 63            # 5 mm, half the thickness
    holes 18 gauge 50 at 150, 178 punch
  }
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
    holes 18 gauge 50 at 40
    holes 18 gauge 50 at 62.99             # <--
    holes 18 gauge 50 at 150
    holes 18 gauge 50 at 177.99 punch      # <--
  }
}
"""
        ),
    ),
    limit=("t", ""),
)
