"""The washer of a bolt would lie on the root fillet.

What it checks: the gauge of each hole for a bolt in inches, less thickness and root radius,
against C3 of the bolt: for a round washer, then for a clipped one. Between the two it is a note,
below both a warning for a stated bolt that is not on a usual gauge. Where the other leg is cut
away nothing is said; there is no table for metric bolts here.

Why: head, nut or washer rides on the fillet, bends the bolt and does not hold its tension.

What to do: clip the washer, take a larger gauge or a thinner angle.

Reference: AISC Manual LRFD 2nd ed. Table 8-4 (later 7-15 and 7-16); its use from memory
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Angle, leg_width
from translator.rules._edge_distances import faces_other_leg
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.clearances import wrench_room
from translator.tables.gauges import is_usual_gauge


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each bolt with less than its C3 to the end of the fillet."""
    section = facts.part.section
    if not isinstance(section, Angle):
        return
    for one in facts.bolted:
        room = wrench_room(one.bolt.name)
        if room is None:
            continue
        value = one.feature.y_mm - section.thickness_mm - section.root_radius_mm
        if value >= room.clear_fillet.mm - HALF_LAST_DECIMAL_MM or not faces_other_leg(facts, one):
            continue
        is_clipped = value >= room.clear_fillet_clipped.mm - HALF_LAST_DECIMAL_MM
        limit = room.clear_fillet if is_clipped else room.clear_fillet_clipped
        washer = "a round washer; it needs a clipped one" if is_clipped else "a clipped washer"
        is_usual = is_usual_gauge(leg_width(section, one.leg), one.feature.y_mm, "us") is True
        is_note = is_clipped or is_usual or not one.bolt.is_stated
        yield Violation(
            message=f"{named(one.feature)} is {facts.length(value)} from the end of the fillet,"
            f" less than {limit.text} for {washer} ({one.bolt.words}; {room.source.reference})",
            element=path_of(one.leg, one.feature),
            value=value,
            limit=limit.mm,
            severity=Severity.NOTE if is_note else Severity.WARNING,
        )


RULE: Final = Rule(
    name="washer-on-fillet",
    title="a washer lies on the root fillet",
    severity=Severity.WARNING,
    scope="part",
    reference="AISC Manual LRFD 2nd ed. Table 8-4 (later 7-15 and 7-16); its use from memory",
    check=check,
    passing=(
        Example(
            settings='practice = "us"',
            text="""\
units inch
part C1 {
  section L3x3x1/2                              # 7/8 in. to the end of the fillet
  length 11-1/2
  leg a { holes bolt 3/4 gauge 1-3/4 at 2 }
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
  section L3-1/2x3-1/2x1/2                      # 7/8 in. to the end of the fillet
  length 11-1/2
  leg a { holes 13/16 gauge 1-9/16 at 2 }       # <--
  leg b { holes 13/16 gauge 1-1/2 at 5 }        # <--
}
""",
        ),
    ),
    applies=needs_code,
)
