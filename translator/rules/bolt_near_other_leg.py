"""A bolt stands so near to the other leg that a socket does not fit over it.

What it checks: the gauge of each hole for a bolt in inches, less the thickness, against C1 of
the bolt, the room to tighten, and C2, the room to enter; where the other leg is cut away nothing
is said. It is a note, and a warning for a stated bolt that is not on a usual gauge or that can't
even be entered. There is no table for metric bolts here.

Why: on site an impact wrench is used; a bolt that can't be tightened is cut out again.

What to do: take a larger gauge or a smaller bolt, or have it tightened by an open wrench.

Reference: AISC Manual LRFD 2nd ed. Table 8-4 (later 7-15 and 7-16); its use from memory
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import leg_width
from translator.rules._bolts import Bolted
from translator.rules._edge_distances import faces_other_leg
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._practice import needs_code
from translator.rules._rule import Example, Rule, Violation
from translator.tables.clearances import wrench_room
from translator.tables.gauges import is_usual_gauge


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each bolt with less than its C1 to the inside of the other leg."""
    for one in facts.bolted:
        room = wrench_room(one.bolt.name)
        if room is None:
            continue
        value = one.feature.y_mm - facts.part.section.thickness_mm
        if value >= room.tighten.mm - HALF_LAST_DECIMAL_MM or not faces_other_leg(facts, one):
            continue
        is_entered = value >= room.enter.mm - HALF_LAST_DECIMAL_MM
        what, limit = ("tighten", room.tighten) if is_entered else ("enter", room.enter)
        yield Violation(
            message=f"{named(one.feature)} is {facts.length(value)} from the inside of the other"
            f" leg, less than the {limit.text} to {what} it ({one.bolt.words};"
            f" {room.source.reference})",
            element=path_of(one.leg, one.feature),
            value=value,
            limit=limit.mm,
            severity=_severity(facts, one, is_entered=is_entered),
        )


def _severity(facts: Facts, one: Bolted, *, is_entered: bool) -> Severity:
    width = leg_width(facts.part.section, one.leg)
    is_usual = is_usual_gauge(width, one.feature.y_mm, "us") is True
    is_note = not one.bolt.is_stated or (is_entered and is_usual)
    return Severity.NOTE if is_note else Severity.WARNING


RULE: Final = Rule(
    name="bolt-near-other-leg",
    title="a bolt is too near to the other leg to be tightened",
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
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 1-5/8 at 2 }      # 1-1/4 in. to tighten is the least
  leg b { cope far heel 4 long x 2 deep   holes bolt 3/4 gauge 2-1/2 at 5 }
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
  leg a { holes bolt 3/4 gauge 1-9/16 at 2 }     # <--
  leg b { holes 13/16 gauge 1-1/2 at 5 }         # <--
}
""",
        ),
    ),
    applies=needs_code,
)
