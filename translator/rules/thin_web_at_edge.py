"""A hole or opening that is for no bolt leaves a thin strip of steel to an edge.

What it checks: the steel between the edge of each hole, slot and opening and the ends and edges
of its leg, cuts counted, the heel not. Less than half the thickness is a warning; less than the
whole thickness where it is to be punched. Holes for bolts have limits of their own
(end-distance-short, edge-distance-short).

Why: a strip that thin bends or tears away in the making or the first time it is touched.

What to do: hold position and size against the drawing; a cut that is meant to be open at the
edge is a notch or a cope. A shop limit stands in [limits] thin-web-at-edge.

Reference: common practice, no source
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from translator.findings import Severity
from translator.model import Hole, Opening, Slot
from translator.rules._bolts import is_made
from translator.rules._edge_distances import steel_left
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, is_past_end, named, path_of
from translator.rules._limits import in_unit, is_less, shop_limit, words
from translator.rules._rule import Example, Rule, Violation
from translator.tables.figures import Limit, Source, exact

SHARE: Final = Fraction(1, 2)
"""Of the thickness, for a hole that is not known to be punched."""

PUNCHED: Final = ("punch", "sub-punch-and-ream")

_SOURCE: Final = Source(title="common practice, no source", edition="", trust="common practice")


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each cut-out for no bolt that leaves too little steel to an edge."""
    for leg, feature, distance in facts.edge_distances:
        if (
            not isinstance(feature, Hole | Slot | Opening)
            or feature.id in facts.bolts
            or feature.id in facts.repeats
            or not is_made(feature)
            or is_past_end(feature, facts.part.length_mm)
            or distance.centre_mm < -HALF_LAST_DECIMAL_MM
            or distance.edge_mm < HALF_LAST_DECIMAL_MM
        ):
            continue
        limit = _limit(facts, feature)
        value = steel_left(feature, facts.free_edges[leg])
        if is_less(value, limit):
            yield Violation(
                message=f"{named(feature)} leaves {facts.length(value)} of steel to the edge,"
                f" less than {words(facts, limit)}; the thickness is"
                f" {facts.length(facts.part.section.thickness_mm)}",
                element=path_of(leg, feature),
                value=value,
                limit=limit.mm,
            )


def _limit(facts: Facts, feature: Hole | Slot | Opening) -> Limit:
    own = shop_limit(facts, "thin-web-at-edge")
    if own is not None:
        return own
    is_punched = not isinstance(feature, Opening) and feature.process in PUNCHED
    share = Fraction(1) if is_punched else SHARE
    value = share * exact(facts.part.section.thickness_mm)
    return Limit(measure=in_unit(value, facts.part.units), source=_SOURCE)


RULE: Final = Rule(
    name="thin-web-at-edge",
    title="a hole leaves a thin strip of steel to an edge",
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
    holes 30 rod gauge 70 at 60                     # 5 mm, half the thickness
    opening from 150,45 to 210,45 to 210,85 to 150,85 close
    holes 60 gauge 59 at 300 mark only
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
    holes 30 rod gauge 70.01 at 60                             # <--
    opening from 150,45 to 210,45 to 210,85.01 to 150,85 close # <--
    holes 30 vent gauge 65.01 at 20 from far punch             # <--
  }
}
"""
        ),
    ),
    limit=("t", ""),
)
