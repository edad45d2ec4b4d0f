"""A hole is to be punched to its full size where the execution class has it reamed.

What it checks: under EN 1090-2, in execution class 3 or 4 (`execution_class` in the settings),
holes and slots with the wish `punch` in steel over 3 mm. Where the steel is thicker than the
hole is wide neither is allowed (punched-hole-too-small).

Why: punching hardens the hole's edge and starts cracks; reaming takes that edge away.

What to do: punch at least 2 mm small and ream (`sub-punch and ream`), or drill.

Reference: EN 1090-2:2008+A1 6.6.3 (from memory)
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_more, words
from translator.rules._practice import Practice
from translator.rules._punching import punched
from translator.rules._rule import Example, Rule, Violation

CLASSES: Final = (3, 4)


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole that is to be punched full size against its execution class."""
    thickness = facts.part.section.thickness_mm
    for one in punched(facts):
        if one.feature.process != "punch" or not one.needs_reaming or one.full is None:
            continue
        is_too_small = one.small is not None and is_more(thickness, one.small)
        if is_more(thickness, one.full) and not is_too_small:
            yield Violation(
                message=f"{named(one.feature)} is to be punched full size in"
                f" {facts.length(thickness)}, more than {words(facts, one.full)} for execution"
                f" class {facts.practice.execution_class} ({one.full.source.reference})",
                element=path_of(one.leg, one.feature),
                value=thickness,
                limit=one.full.mm,
            )


def _applies(practice: Practice) -> str:
    is_named = practice.execution_class in CLASSES
    return "" if is_named else "execution class 3 or 4 is not named"


RULE: Final = Rule(
    name="punched-hole-not-reamed",
    title="a hole is to be punched full size where it must be reamed",
    severity=Severity.WARNING,
    scope="part",
    reference="EN 1090-2:2008+A1 6.6.3 (from memory)",
    check=check,
    passing=(
        Example(
            settings='practice = "eu"\nexecution_class = 3',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes bolt M20 gauge 50 at 60 sub-punch and ream   holes bolt M20 gauge 50 at 200 drill }
}
""",
        ),
        Example(
            settings='practice = "eu"\nexecution_class = 2',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes bolt M20 gauge 50 at 60 punch }
}
""",
        ),
    ),
    failing=(
        Example(
            settings='practice = "eu"\nexecution_class = 3',
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { holes bolt M20 gauge 50 at 60 punch }    # <--
}
""",
        ),
    ),
    applies=_applies,
)
