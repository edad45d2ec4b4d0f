"""A value of a part in inches is not a whole 64th of an inch.

What it checks: in parts whose units are inches, the length, the places and sizes of holes, slots
and centre marks. Values that are whole half millimetres count as metric on purpose.

Why: nobody measures 3.1 in. with a rule; such a value is often a slip, a rounded one, or comes
from a model that is a little off.

What to do: hold the value against the drawing. NC files rounded to 0.01 mm are brought back with
`nominal_inch`.

Reference: common practice, no source
"""

from collections.abc import Iterator, Mapping
from typing import Final

from translator.findings import Severity
from translator.lengths.spell import is_64th
from translator.model import CentreMark, Hole, Slot, on_grid
from translator.rules._facts import Facts, named, path_of
from translator.rules._rule import Example, Rule, Violation

METRIC_STEP_MM: Final = 0.5


def check(facts: Facts) -> Iterator[Violation]:
    """Yield the length, and each feature's first value, that is off the grid."""
    if facts.part.units != "inch":
        return
    if _is_off(facts.part.length_mm):
        yield _violation(facts, "the length", facts.part.length_mm, "length")
    for leg, feature in facts.features:
        if isinstance(feature, Hole | Slot | CentreMark):
            for what, value in _values(feature).items():
                if _is_off(value):
                    name = f"{what} of {named(feature)}"
                    yield _violation(facts, name, value, path_of(leg, feature))
                    break


def _values(feature: Hole | Slot | CentreMark) -> Mapping[str, float]:
    values = {"x": feature.x_mm, "the gauge": feature.y_mm}
    if isinstance(feature, Hole):
        values["the diameter"] = feature.diameter_mm
    elif isinstance(feature, Slot):
        values |= {"the width": feature.width_mm, "the length": feature.length_mm}
    return values


def _is_off(mm: float) -> bool:
    return not is_64th(mm) and not (on_grid(mm) / METRIC_STEP_MM).is_integer()


def _violation(facts: Facts, what: str, mm: float, element: str) -> Violation:
    return Violation(
        message=f"{what} is {facts.length(mm)}, not a whole 64th of an inch",
        element=element,
        value=mm,
    )


RULE: Final = Rule(
    name="value-off-inch-grid",
    title="a value in inches is not a whole 64th",
    severity=Severity.NOTE,
    scope="part",
    reference="common practice, no source",
    check=check,
    passing=(
        Example(
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-33/64
  leg a { holes 13/16 gauge 2.5 at 3.125   holes 22mm gauge 60mm at 150mm }
}
"""
        ),
    ),
    failing=(
        Example(
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11.6                               # <--
  leg a { holes 13/16 gauge 2-1/2 at 3.1 }  # <--
}
"""
        ),
    ),
)
