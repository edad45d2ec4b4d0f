"""An outline cuts the heel on one leg only, though both legs share it.

What it checks: the heel line belongs to both legs of an angle. Where the outline given for one
leg leaves it, the other leg's outline must leave it over the same stretch, within 0.02 mm.

Why: a cut at the heel takes the corner of the angle, one thickness square, from both legs. An
outline that shows it on one leg only is of another hand or another part, or was measured from
the toe: the fault that moves every hole of the leg.

What to do: ask the detailer from which edge the leg was measured. If the heel is really cut,
both outlines must show it.

Reference: geometry, no source needed
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.geometry.heelline import heel_mismatch
from translator.model import Flat, trim_path
from translator.rules._facts import Facts
from translator.rules._rule import Example, Rule, Violation


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the outline of the source that leaves the heel where the other leg keeps it."""
    if isinstance(facts.part.section, Flat):
        return
    contours = {leg: outline.contour for leg, outline in facts.outlines.items()}
    for leg in ("a", "b"):
        explicit = facts.explicit_outline(leg)
        if explicit is None or not all(contours.values()):
            continue
        element = trim_path(leg, explicit[0])
        other = contours["b" if leg == "a" else "a"]
        fault = heel_mismatch(leg, contours[leg], other, element=element)
        if fault is not None:
            yield Violation(
                message=fault.message, element=element, value=fault.value, limit=fault.limit
            )
            return


RULE: Final = Rule(
    name="heel-cut-one-leg",
    title="an outline cuts the heel on one leg only",
    severity=Severity.ERROR,
    scope="part",
    reference="geometry, no source needed",
    check=check,
    passing=(
        Example(
            text="""\
units mm
part A1 {
  section L90x90x10
  length 400
  leg a { outline from 50,0 to 400,0 to 400,90 to 0,90 to 0,40 to 50,40 close }
  leg b { outline from 50,0 to 400,0 to 400,90 to 0,90 to 0,10 to 50,10 close }
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
  leg a { outline from 50,0 to 400,0 to 400,90 to 0,90 to 0,40 to 50,40 close }    # <--
}
"""
        ),
    ),
)
