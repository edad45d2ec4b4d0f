"""The name of the section says other sizes than the source gives.

What it checks: the designation is read in millimetres and in inches, and its sizes are held
against those of the section; the legs of an angle may stand in either order. A difference over
0.5 mm is a warning, one over 0.05 mm a note (rolled to another standard, or rounded).

Why: the bar is taken from the rack by its name and the holes are placed by its sizes; a name of
another size means one of the two is wrong.

What to do: hold both against the drawing and correct the one that is wrong.

Reference: 0.5 mm is common practice, no source
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from translator.findings import Severity
from translator.model import Flat, Section
from translator.rules._facts import Facts
from translator.rules._limits import shop_limit
from translator.rules._rule import Example, Rule, Violation
from translator.tables.designations import designation_of, parse_section

NOTED_MM: Final = 0.05
WARNED_MM: Final = 0.5


def check(facts: Facts) -> Iterator[Violation]:
    """Yield a designation whose sizes are not those of the section."""
    section = facts.part.section
    if section.designation is None:
        return
    read = _read(section.designation)
    if not read:
        return
    named = min(read, key=lambda r: max(_differences(r, section), default=float("inf")))
    differences = _differences(named, section)
    if not differences:
        what = "a flat" if isinstance(named, Flat) else "an angle"
        yield Violation(
            message=f"the name {section.designation} is that of {what}, the sizes are not",
            element="section",
        )
    elif max(differences) > NOTED_MM:
        own = shop_limit(facts, "designation-differs")
        warned = WARNED_MM if own is None else own.mm
        yield Violation(
            message=f"the name {section.designation} differs by {facts.length(max(differences))}"
            f" from the sizes given, which are those of {designation_of(section)}",
            element="section",
            value=max(differences),
            limit=warned if max(differences) > warned else NOTED_MM,
            severity=None if max(differences) > warned else Severity.NOTE,
        )


@lru_cache(maxsize=256)
def _read(designation: str) -> tuple[Section, ...]:
    """Return what a name says under each unit; most parts of a delivery share a few names."""
    readings = (parse_section(designation, unit).section for unit in ("mm", "inch"))
    return tuple(section for section in readings if section is not None)


def _differences(named: Section, given: Section) -> tuple[float, ...]:
    """Return how far each size is off; empty for a flat against an angle."""
    one, other = _sizes(named), _sizes(given)
    if len(one) != len(other):
        return ()
    return tuple(abs(a - b) for a, b in zip(one, other, strict=True))


def _sizes(section: Section) -> tuple[float, ...]:
    if isinstance(section, Flat):
        return section.width_mm, section.thickness_mm
    return (*sorted((section.leg_a_mm, section.leg_b_mm)), section.thickness_mm)


_PASSING: Final = """\
units mm
part A1 {
  section angle leg a 80.05 leg b 80 thickness 8 root 10 toe 5 called "L80x80x8"
  length 1250
}
"""

_FAILING: Final = """\
units mm
part A1 {
  section angle leg a 80.51 leg b 80 thickness 8 root 10 toe 5 called "L80x80x8"    # <--
  length 1250
}
"""

RULE: Final = Rule(
    name="designation-differs",
    title="the section's name says other sizes than those given",
    severity=Severity.WARNING,
    scope="part",
    reference="0.5 mm is common practice, no source",
    check=check,
    passing=(Example(text=_PASSING),),
    failing=(Example(text=_FAILING),),
    limit=("",),
)
