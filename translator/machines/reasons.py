"""Why a machine can't make a part, or what is left to do after it."""

from typing import Final

from msgspec import Struct

from translator.findings import Severity
from translator.lengths.spell import inch_text
from translator.model import Feature, LegName, Part

SLACK_DEG: Final = 0.005
"""What an angle is off by less may be rounding."""

_MM_PER_INCH: Final = 25.4


class Reason(Struct, frozen=True, kw_only=True):
    """One thing to say about a part on a machine.

    Attributes:
        rule: name of the fault, that of a rule.
        message: a whole sentence; the offending value first, then the limit, with units.
        element: path of the element in the part; "" for the part.
        value: the offending figure, None where a figure makes no sense.
        limit: the figure it is held against.
        unit: unit of both.
        severity: an error keeps the machine from making the part.
        hand_work: what is left to do after the machine, in a few words; "" for nothing.
    """

    rule: str
    message: str
    element: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = "mm"
    severity: Severity = Severity.ERROR
    hand_work: str = ""


def length_words(part: Part, mm: float) -> str:
    """Return a length with its unit as the part's author would write it.

    Inches as a fraction where it is one to 1/64, else as a decimal of four places;
    millimetres to three places. Trailing zeros are left out.
    """
    if part.units == "inch":
        return f"{inch_text(mm) or decimal(mm / _MM_PER_INCH, 4)} in."
    return f"{decimal(mm, 3)} mm"


def decimal(value: float, places: int) -> str:
    """Return a number with at most so many places and no trailing zeros."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def named(feature: Feature) -> str:
    """Return a feature's kind and id: "hole a3", "centre mark b1"."""
    kind = "scribed line" if feature.kind == "scribe" else feature.kind.replace("_", " ")
    return f"{kind} {feature.id}"


def leg_words(leg: LegName) -> str:
    """Return the leg as a message names it: "leg a", "the face"."""
    return "the face" if leg == "face" else f"leg {leg}"
