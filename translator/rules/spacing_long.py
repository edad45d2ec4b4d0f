"""Bolts in a line along a part in contact are too far from each other.

What it checks: only for piece marks that the settings say are in contact with another part
([contact] marks): neighbours in each line of bolts along a leg. us: 24 t, at most 12 in.
(300 mm); 14 t, at most 7 in. (180 mm) for unpainted weathering steel. AISC does not ask it of
two shapes in contact all along, so name the marks of plates only. eu: 14 t, at most 200 mm
(175 mm for weathering steel).

Why: between the bolts the parts gape, and moisture gets in.

What to do: set a bolt between. A shop limit stands in [limits] spacing-long.

Reference: us: AISC 360-22 J3.6 (J3.5 before; the page of 360-16); eu: EN 1993-1-8:2005 Table 3.3
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from translator.findings import Severity
from translator.rules._contact import needs_contact, rows
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_more, shop_limit, weight, whose, words
from translator.rules._rule import Example, Rule, Violation
from translator.tables.distance_maxima import spacing_max


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each bolt that is too far from the one before it in its line."""
    for row in rows(facts):
        for before, one in pairwise(row):
            value = one.feature.x_mm - before.feature.x_mm
            own = shop_limit(facts, "spacing-long", bolts=(before.bolt, one.bolt))
            limit = own or spacing_max(
                facts.part.section.thickness_mm,
                one.bolt.code,
                one.bolt.edition,
                exposure=facts.practice.exposure,
                units=facts.part.units,
            )
            if limit is not None and is_more(value, limit):
                yield Violation(
                    message=f"{named(one.feature)} is {facts.length(value)} from the bolt before"
                    f" it, more than {words(facts, limit)}"
                    f" {whose(limit.source, before.bolt, one.bolt)}",
                    element=path_of(one.leg, one.feature),
                    value=value,
                    limit=limit.mm,
                    severity=weight(limit.source, before.bolt, one.bolt),
                    related=((path_of(before.leg, before.feature), "the bolt before it"),),
                )


RULE: Final = Rule(
    name="spacing-long",
    title="bolts of a part in contact are too far apart",
    severity=Severity.ERROR,
    scope="part",
    reference="us: AISC 360-22 J3.6 (J3.5 before; the page of 360-16); eu: EN 1993-1-8:2005 Table"
    " 3.3",
    check=check,
    passing=(
        Example(
            settings='practice = "us"\n[contact]\nmarks = ["B1"]',
            text="""\
units inch
part B1 {
  section FB4x3/8
  length 2'-0
  face { holes bolt 3/4 gauge 2 at 2, 11, 20 }       # 9 in. is the most
}
part A1 {
  section FB4x3/8
  length 2'-0
  face { holes bolt 3/4 gauge 2 at 2, 22 }           # not said to be in contact
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "us"\n[contact]\nmarks = ["B1"]',
            text="""\
units inch
part B1 {
  section FB4x3/8
  length 2'-0
  face {
    holes bolt 3/4 gauge 2 at 2, 11
    holes bolt 3/4 gauge 2 at 20-1/16                # <--
  }
}
""",
        ),
    ),
    applies=needs_contact,
    limit=("d", "t", ""),
)
