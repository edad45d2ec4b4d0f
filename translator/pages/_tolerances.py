"""How far a measured size may be off: the shop's figure, else a standard's, else none.

A shop says its own in ``[tolerances]`` of its settings. Of the standards the practice that a
part is judged by decides: AISC 303, ASTM A6 and RCSC, or EN 1090-2 and EN 10056-2. Where none
of them has a figure here, the sheet says so and leaves the room blank.
"""

import math
from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, Literal

from msgspec import Struct, field

from translator.lengths.grid import on_grid
from translator.lengths.parse import Unit
from translator.lengths.spell import inch_text, mm_text
from translator.tables.tolerances import Tolerance, tolerance

if TYPE_CHECKING:
    from translator.model import Part

Code = Literal["us", "eu"]

Quantity = Literal[
    "length",
    "leg",
    "thickness",
    "squareness",
    "straightness",
    "end-squareness",
    "spacing",
    "group-spacing",
    "gauge",
    "end-distance",
    "diameter",
    "other",
]

QUANTITIES: Final[tuple[Quantity, ...]] = (
    "length",
    "leg",
    "thickness",
    "squareness",
    "straightness",
    "end-squareness",
    "spacing",
    "group-spacing",
    "gauge",
    "end-distance",
    "diameter",
    "other",
)
"""What a tolerance may be set for, by the names that the settings use."""

CLASSES: Final = (1, 2)
"""Tolerance classes of EN 1090-2."""

_OF_ANGLES: Final = ("leg", "thickness", "squareness", "straightness")

_STANDARDS: Final[Mapping[tuple[Code, Quantity], tuple[str, str]]] = MappingProxyType(
    {
        ("us", "length"): ("AISC 303", "cut length"),
        ("us", "leg"): ("ASTM A6", "leg"),
        ("us", "squareness"): ("ASTM A6", "squareness"),
        ("us", "straightness"): ("ASTM A6", "straightness"),
        ("us", "diameter"): ("RCSC", "hole diameter"),
        ("eu", "length"): ("EN 1090-2", "cut length"),
        ("eu", "leg"): ("EN 10056-2", "leg"),
        ("eu", "thickness"): ("EN 10056-2", "thickness"),
        ("eu", "squareness"): ("EN 10056-2", "squareness"),
        ("eu", "straightness"): ("EN 10056-2", "straightness"),
        ("eu", "end-squareness"): ("EN 1090-2", "squareness of a cut end"),
        ("eu", "spacing"): ("EN 1090-2", "hole in its group"),
        ("eu", "group-spacing"): ("EN 1090-2", "spacing of hole groups"),
        ("eu", "gauge"): ("EN 1090-2", "hole group"),
        ("eu", "end-distance"): ("EN 1090-2", "hole to cut end"),
        ("eu", "diameter"): ("EN 1090-2", "hole diameter"),
    }
)

_BETWEEN_HOLES_IN: Final = Fraction(1, 32)
"""What such lines are held to between holes, in inches: common practice, no source."""


class ShopTolerance(Struct, frozen=True, kw_only=True):
    """A tolerance as a shop sets it; both deviations in mm, exactly, the lower 0 or less."""

    lower: Fraction
    upper: Fraction
    unit: Unit


class ShopTolerances(Struct, frozen=True, kw_only=True):
    """What a shop says of tolerances.

    Attributes:
        own: quantity -> the shop's figure.
        tolerance_class: of EN 1090-2, for what it does not set itself.
    """

    own: Mapping[str, ShopTolerance] = field(default_factory=lambda: MappingProxyType({}))
    tolerance_class: int = 1


class Allowed(Struct, frozen=True, kw_only=True):
    """How far a size may be off.

    Attributes:
        lower_mm: lowest deviation, None where none is set.
        upper_mm: highest deviation, None where there is no figure at all.
        text: both, as a shop writes them, with their unit.
        source: where the figure stands.
        trust: how it was come by.
    """

    lower_mm: float | None
    upper_mm: float | None
    text: str
    source: str
    trust: str


NONE: Final = Allowed(
    lower_mm=None, upper_mm=None, text="", source="no figure is kept here", trust="none"
)
"""What is said where nobody gives a figure."""


def allowed(
    part: "Part", quantity: Quantity, size_mm: float, *, shop: ShopTolerances, code: Code
) -> Allowed:
    """Return how far a size of a part may be off.

    Args:
        part: the part.
        quantity: what is measured.
        size_mm: its nominal size; of an end that is measured for squareness the depth.
        shop: what the shop says.
        code: the practice that the part is judged by.
    """
    own = shop.own.get(quantity)
    if own is not None:
        lower, upper = on_grid(own.lower), on_grid(own.upper)
        return _told(lower, upper, own.unit, "[tolerances] in backmark.toml", "set by the shop")
    if (code, quantity) == ("us", "spacing"):
        mm = on_grid(_BETWEEN_HOLES_IN * Fraction("25.4"))
        return _told(-mm, mm, "inch", "common practice, no source", "common practice, no source")
    if quantity in _OF_ANGLES and part.section.kind != "angle":
        return NONE
    found = _published(part, quantity, size_mm, shop, code)
    if found is None:
        return NONE
    lower_mm, upper_mm = found.deviations(size_mm)
    unit: Unit = "inch" if found.unit == "inch" else "mm"
    trust = "from memory" if found.source.trust == "memory" else found.source.trust
    note = f" ({found.note})" if found.note else ""
    return _told(lower_mm, upper_mm, unit, f"{found.source.title}{note}", trust)


def _published(
    part: "Part", quantity: Quantity, size_mm: float, shop: ShopTolerances, code: Code
) -> Tolerance | None:
    key = _STANDARDS.get((code, quantity))
    if key is None:
        return None
    from translator.model import leg_names, leg_width

    longer = max(leg_width(part.section, leg) for leg in leg_names(part))
    chosen_by = {
        "leg": longer if code == "eu" else size_mm,
        "squareness": longer,
        "straightness": longer,
    }
    return tolerance(
        *key,
        chosen_by.get(quantity, size_mm),
        tolerance_class=shop.tolerance_class,
        units=part.units if key == ("AISC 303", "cut length") else None,
    )


def _told(lower: float | None, upper: float, unit: Unit, source: str, trust: str) -> Allowed:
    top = _figure(upper, unit)
    if lower is None:
        text = f"no lower, +{top}"
    elif lower == -upper:
        text = f"\u00b1{top}"
    else:
        text = f"{'-' if lower else ''}{_figure(-lower, unit)} / +{top}"
    mark = "in." if unit == "inch" else "mm"
    return Allowed(
        lower_mm=lower, upper_mm=upper, text=f"{text} {mark}", source=source, trust=trust
    )


def _figure(mm: float, unit: Unit) -> str:
    """Spell a deviation; one that is no usual figure is cut off, never rounded up."""
    if unit == "inch":
        return inch_text(mm) or f"{math.floor(mm / 25.4 * 1000.0 + 1e-6) / 1000.0:g}"
    return mm_text(math.floor(mm * 100.0 + 1e-6) / 100.0)
