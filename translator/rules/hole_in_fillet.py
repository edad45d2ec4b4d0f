"""A hole or slot cuts into the root fillet of an angle, or into its other leg.

What it checks: the edge of each hole and slot must lie at least the thickness and the root
radius from the heel. One that is nearer than the thickness alone cuts the other leg and is an
error; where the other leg is cut away nothing is said.

Why: in the fillet the leg grows thicker and slopes: a punch is pushed aside or breaks, a drill
wanders, and the head or nut of a bolt does not sit flat.

What to do: ask for a larger gauge or a smaller hole; if the hole must stay, have it drilled.

Reference: common practice, no source
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.clearance import extent
from translator.model import Angle, Hole, Slot
from translator.rules._bolts import is_made
from translator.rules._facts import HALF_LAST_DECIMAL_MM, Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole and slot whose edge is nearer to the heel than the fillet ends."""
    section = facts.part.section
    if not isinstance(section, Angle):
        return
    thickness = section.thickness_mm
    limit = thickness + section.root_radius_mm
    for leg, feature, distance in facts.edge_distances:
        is_off = distance.centre_mm < -HALF_LAST_DECIMAL_MM
        if not isinstance(feature, Hole | Slot) or is_off or not is_made(feature):
            continue
        value = extent(feature).low
        if value >= limit - HALF_LAST_DECIMAL_MM or value < HALF_LAST_DECIMAL_MM:
            continue
        other = facts.boundaries.get("b" if leg == "a" else "a")
        if other is not None and not other.contains(feature.x_mm, limit):
            continue
        start = f"the edge of {named(feature)} is {facts.length(value)} from the heel"
        if value < thickness - HALF_LAST_DECIMAL_MM:
            yield Violation(
                message=f"{start}, less than the thickness of {facts.length(thickness)}: it cuts"
                " the other leg",
                element=path_of(leg, feature),
                value=value,
                limit=thickness,
                severity=Severity.ERROR,
            )
        else:
            yield Violation(
                message=f"{start}, less than thickness and root radius, {facts.length(limit)}",
                element=path_of(leg, feature),
                value=value,
                limit=limit,
            )


RULE: Final = Rule(
    name="hole-in-fillet",
    title="a hole cuts into the root fillet of an angle",
    severity=Severity.WARNING,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10                       # root radius 11 mm
  length 400
  leg a {
    holes 22 gauge 28 at 60               # leg b is cut away here
    holes 22 gauge 32 at 200
  }
  leg b { cope start heel 120 long x 40 deep   holes 22 gauge 55 at 300 }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10                       # root radius 11 mm
  length 400
  leg a { holes 22 gauge 31.99 at 60 }    # <--
  leg b {
    slots 22 x 30 across leg gauge 35 at 120   # <--
    holes 22 gauge 20 at 200                   # <--
  }
}
"""
        ),
    ),
)
