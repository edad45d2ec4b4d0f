"""A hole that is to be punched is too small for the thickness.

What it checks: holes and slots with the wish `punch` or `sub-punch and ream`, by the thickness.
eu: t <= d0, the hole or the least width of the slot. us: AISC sets no limit any more, so only
the trade's own is held: the hole not smaller than the steel is thick, half of it for stainless.
Other codes are named in the settings (`punching = "aisc-before-2000"`: t <= bolt + 1/8 in.;
ufgs, aashto, as-4100, csa-s16). Without a stated wish this is a matter of the machine.

Why: the punch breaks or buckles, and the hole's edge is torn and brittle; punched plates were
found to have less strength, ductility and fatigue life than drilled ones.

What to do: drill it, or punch it small and ream it where the code allows that.

Reference: eu: EN 1090-2:2008+A1 6.6.3 (from memory); us: common practice, no source; AISC ASD 1989
M2.5, UFGS-05055A 2.2.3 where named; on strength FHWA/TX-07/0-4624-1
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.rules._bolts import least_width
from translator.rules._facts import Facts, named, path_of
from translator.rules._limits import is_more, weight, words
from translator.rules._punching import Punched, punched
from translator.rules._rule import Example, Rule, Violation
from translator.tables.figures import Limit


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole that is to be punched in steel too thick for it."""
    thickness = facts.part.section.thickness_mm
    for one in punched(facts):
        limit = _limit(one)
        if limit is not None and is_more(thickness, limit):
            yield Violation(
                message=f"{named(one.feature)} of {facts.length(least_width(one.feature))} is to"
                f" be punched in {facts.length(thickness)}, {_most(facts, limit)}"
                f" ({limit.source.reference})",
                element=path_of(one.leg, one.feature),
                value=thickness,
                limit=limit.mm,
                severity=weight(limit.source),
            )


def _most(facts: Facts, limit: Limit) -> str:
    if limit.mm <= 0.0:
        return "and this steel may not be punched at all"
    return f"more than {words(facts, limit)}"


def _limit(one: Punched) -> Limit | None:
    """Return the thickest steel for the way it is punched, or may be by the class."""
    is_small = one.feature.process == "sub-punch-and-ream" or one.needs_reaming
    return one.small if is_small else one.full


RULE: Final = Rule(
    name="punched-hole-too-small",
    title="a hole to be punched is too small for the thickness",
    severity=Severity.ERROR,
    scope="part",
    reference="eu: EN 1090-2:2008+A1 6.6.3 (from memory); us: common practice, no source; AISC ASD"
    " 1989 M2.5, UFGS-05055A 2.2.3 where named; on strength FHWA/TX-07/0-4624-1",
    check=check,
    passing=(
        Example(
            settings='practice = "eu"',
            text="""\
units mm
part A1 {
  section L100x100x12
  length 400
  leg a { holes 12 gauge 55 at 60, 120 punch   holes 11 gauge 55 at 200 drill }
  leg b { holes 11 gauge 55 at 300 }
}
""",
        ),
        Example(
            settings='practice = "us"\npunching = "aisc-before-2000"',
            text="""\
units inch
part C1 {
  section L6x6x7/8
  length 12
  leg a { holes bolt 3/4 gauge 3-1/2 at 3 punch }      # 7/8 in. is the most
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
  section L100x100x12
  length 400
  leg a {
    holes 11.99 gauge 55 at 60 punch                        # <--
    holes 11 gauge 55 at 200 sub-punch and ream             # <--
  }
}
""",
        ),
        Example(
            settings='practice = "us"\npunching = "aisc-before-2000"',
            text="""\
units inch
part C1 {
  section L6x6x7/8
  length 12
  leg a { holes bolt 5/8 gauge 3-1/2 at 3 punch }           # <--
}
""",
        ),
    ),
)
