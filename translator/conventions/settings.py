"""The named settings of the detailer format."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.errors import UnknownNameError

AUTO: Final = "auto"

CHOICES: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "y_datum": (AUTO, "named-edge", "view-bottom"),
        "u_view_bottom": (AUTO, "toe", "heel"),
        "h_view": (AUTO, "rolled", "upright"),
        "slot_reference": (AUTO, "first-centre", "middle"),
        "slot_length": (AUTO, "centres", "overall"),
        "arc_sign": (AUTO, "plus-left", "plus-right"),
        "mitre_sign": (AUTO, "plus-left", "plus-right"),
        "flange_cut_view": (AUTO, "u", "o"),
        "decimal_comma": (AUTO, "yes", "no"),
        "strict": ("no", "yes"),
        "nominal_inch": ("no", "yes"),
    }
)
"""Setting -> its allowed values, the default first."""


class Conventions(Struct, frozen=True, kw_only=True):
    """One value for each named setting; "auto" leaves it to the evidence.

    Attributes:
        y_datum: what y is measured from: the edge that the reference letter names, or always
            the lower edge of the view.
        u_view_bottom: which edge of the lying leg is y = 0 in view u.
        h_view: view h as a true outside view of a rolled piece, or with y kept up.
        slot_reference: the point given for a slot: centre of its first end, or its middle.
        slot_length: the width given for a slot: between end centres, or overall.
        arc_sign: the way a positive contour radius turns, seen along the running direction.
        mitre_sign: the way a positive header cut angle leans: the trace turned from the
            square to the left (counter-clockwise in the view) or to the right.
        flange_cut_view: the view in which the header's flange cut angles of an angle are seen:
            u (the outer face of the lying leg) or o (its inner face, from above).
        decimal_comma: whether a comma is a decimal mark.
        strict: an unknown block or a deviation from the standard is an error.
        nominal_inch: bring lengths rounded to 0.01 mm back to 1/16, 1/32 or 1/64 in.; a file
            that states it in a comment line is read so by itself.
    """

    y_datum: str = AUTO
    u_view_bottom: str = AUTO
    h_view: str = AUTO
    slot_reference: str = AUTO
    slot_length: str = AUTO
    arc_sign: str = AUTO
    mitre_sign: str = AUTO
    flange_cut_view: str = AUTO
    decimal_comma: str = AUTO
    strict: str = "no"
    nominal_inch: str = "no"


def with_setting(conventions: Conventions, name: str, value: str) -> Conventions:
    """Return the conventions with one setting changed.

    Raises:
        UnknownNameError: for a setting or value that does not exist; the message is a
            sentence that lists what does.
    """
    key = name.strip().replace("-", "_")
    if key not in CHOICES:
        raise UnknownNameError(f"there is no setting {name!r}; there are {', '.join(CHOICES)}")
    if value not in CHOICES[key]:
        raise UnknownNameError(
            f"{value!r} is no value of {key}; it takes {', '.join(CHOICES[key])}"
        )
    return replace(conventions, **{key: value})
