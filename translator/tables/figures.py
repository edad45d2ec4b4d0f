"""Figures of the tables: exact lengths in their own unit, limits with their source."""

from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Final, Literal

from msgspec import Struct
from msgspec.structs import replace

from translator.lengths.grid import MM_DECIMALS, on_grid
from translator.lengths.parse import INCH, Unit
from translator.lengths.spell import inch_text

Trust = Literal["published copy", "transcription", "memory", "common practice"]
"""How a figure was come by, most trusted first.

A public copy or reprint of the page; open data or code that carries the table; no copy at hand;
a habit of the trade that no code states. None was read from a purchased copy of a standard.
"""

TRUSTS: Final[tuple[Trust, ...]] = ("published copy", "transcription", "memory", "common practice")


class Source(Struct, frozen=True, kw_only=True):
    """Where a figure stands.

    Attributes:
        title: standard, edition and clause or table.
        edition: the edition alone; "" where none is known or asked.
        trust: how the figure was come by.
    """

    title: str
    edition: str
    trust: Trust

    @property
    def is_from_memory(self) -> bool:
        """Whether nothing but memory stands behind the figure; such a rule only warns."""
        return self.trust == "memory"

    @property
    def reference(self) -> str:
        """The words for a reader: the title, and the trust where it is less than a copy."""
        if self.trust == "transcription":
            return f"{self.title}, from an open transcription"
        return f"{self.title}, from memory" if self.is_from_memory else self.title

    def beside(self, other: "Source") -> "Source":
        """Return the source of a figure worked out from two: both titles, the weaker trust."""
        titles = dict.fromkeys((self.title, other.title))
        weaker = max(self.trust, other.trust, key=TRUSTS.index)
        return replace(self, title=" and ".join(titles), trust=weaker)


class Measure(Struct, frozen=True, kw_only=True, dict=True):
    """An exact length in the unit of the table that gives it.

    It has no slots, so that its millimetres are worked out once.
    """

    value: Fraction
    unit: Unit

    @property
    def exact_mm(self) -> Fraction:
        """Millimetres, exactly."""
        return self.value * INCH if self.unit == "inch" else self.value

    @cached_property
    def mm(self) -> float:
        """Millimetres on the part model's grid, so that it can be held against a part."""
        return on_grid(self.exact_mm)

    @property
    def text(self) -> str:
        """The length for a message in its own unit: ``1-1/4 in.``, ``2.333 in.``, ``46.67 mm``."""
        if self.unit == "inch":
            return f"{inch_text(self.exact_mm) or _decimal(self.value, 3)} in."
        return f"{_decimal(self.value, 2)} mm"


class Limit(Struct, frozen=True, kw_only=True):
    """A figure to hold a part against, with its source."""

    measure: Measure
    source: Source

    @property
    def mm(self) -> float:
        """Millimetres on the part model's grid."""
        return self.measure.mm

    @property
    def text(self) -> str:
        """The figure for a message, in its own unit."""
        return self.measure.text

    def plus(self, other: "Limit") -> "Limit":
        """Return the sum in this limit's unit, with both sources and the weaker trust."""
        total = self.measure.exact_mm + other.measure.exact_mm
        value = total / INCH if self.measure.unit == "inch" else total
        return Limit(
            measure=Measure(value=value, unit=self.measure.unit),
            source=self.source.beside(other.source),
        )


@lru_cache(maxsize=4096)
def exact(mm: float) -> Fraction:
    """Return a length of a part as the exact decimal it stands for."""
    return round(Fraction(mm), MM_DECIMALS)


def _decimal(value: Fraction, places: int) -> str:
    text = f"{float(round(value, places)):.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
