"""The outer bolts of a part in contact are too far from its edge.

What it checks: only for piece marks that the settings say are in contact with another part
([contact] marks): on each leg without trims, the bolt nearest to each end and edge. us: 12 t, at
most 6 in. (150 mm), from its centre to the nearest edge of all. eu: 4 t + 40 mm for steel
exposed to weather, the larger of 8 t and 125 mm for unpainted weathering steel, none for
sheltered steel. Inner lines are never asked.

Why: the edges gape and let moisture in between the parts.

What to do: move the outer line, or seal the joint. A shop limit stands in [limits]
edge-distance-long.

Reference: us: AISC 360-22 J3.6 (J3.5 before; the page of 360-16); eu: EN 1993-1-8:2005 Table 3.3
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._contact import needs_contact, outer_bolts
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_more, shop_limit, weight, whose, words
from translator.rules._rule import Example, Rule, Violation
from translator.tables.distance_maxima import edge_distance_max


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each outer bolt that is too far from the edge it is nearest to."""
    told: set[str] = set()
    for outer in outer_bolts(facts):
        bolt, feature = outer.one.bolt, outer.one.feature
        value = outer.nearest_mm if bolt.code == "us" else outer.mm
        limit = shop_limit(facts, "edge-distance-long", bolts=(bolt,)) or edge_distance_max(
            facts.part.section.thickness_mm,
            bolt.code,
            bolt.edition,
            exposure=facts.practice.exposure,
            units=facts.part.units,
        )
        if limit is None or feature.id in told or not is_more(value, limit):
            continue
        told.add(feature.id)
        edge = "nearest edge" if bolt.code == "us" else outer.edge
        yield Violation(
            message=f"{named(feature)} in the outer line is {facts.length(value)} from the {edge},"
            f" more than {words(facts, limit)} {whose(limit.source, bolt)}",
            element=path_of(outer.one.leg, feature),
            value=value,
            limit=limit.mm,
            severity=weight(limit.source, bolt),
        )


RULE: Final = Rule(
    name="edge-distance-long",
    title="the outer bolts of a part in contact are too far from its edge",
    severity=Severity.ERROR,
    scope="part",
    reference="us: AISC 360-22 J3.6 (J3.5 before; the page of 360-16); eu: EN 1993-1-8:2005 Table"
    " 3.3",
    check=check,
    passing=(
        Example(
            settings='practice = "eu"\n[contact]\nmarks = ["B*"]',
            text="""\
units mm
part B1 {
  section FB160x10
  length 400
  face { holes bolt M20 gauge 80 at 80, 200, 320 }       # 80 mm is the most
}
part A1 {
  section FB200x10
  length 400
  face { holes bolt M20 gauge 100 at 100, 300 }          # not said to be in contact
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "eu"\n[contact]\nmarks = ["B*"]',
            text="""\
units mm
part B1 {
  section FB160x10
  length 400
  face {
    holes bolt M20 gauge 80 at 80, 200
    holes bolt M20 gauge 80 at 319.99                    # <--
  }
}
""",
        ),
    ),
    applies=needs_contact,
    limit=("d", "t", ""),
)
