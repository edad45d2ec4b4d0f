"""Spell numbers and handles: most of what a drawing is made of, so each is spelled once."""

from collections.abc import Iterator
from functools import lru_cache
from itertools import chain, count
from typing import Final

DECIMALS: Final = 9
"""Decimals of a coordinate: an inch drawing is as sharp as the model's grid of 0.000001 mm."""

_SPELLED: Final = f"%.{DECIMALS}f"

_MOST_NUMBERS: Final = 20_000
"""Numbers that are kept at hand for each unit, from drawing to drawing."""

_HANDLES_AT_HAND: Final = 2048
"""More handles than an ordinary drawing takes."""


@lru_cache(maxsize=32768)
def number(value: float, decimals: int = DECIMALS) -> str:
    """Spell a number without an exponent, without trailing zeros and never as -0.0."""
    text = f"{value:.{decimals}f}".rstrip("0")
    if text.endswith("."):
        text += "0"
    return "0.0" if text == "-0.0" else text


class Numbers(dict[float, str]):
    """Lengths in mm -> their spelling in a drawing's unit, as ``number`` has it.

    A plain look-up is several times faster than a call, and a drawing asks 600 times.
    """

    __slots__ = ("_unit_mm",)

    def __init__(self, unit_mm: float) -> None:
        """Begin with none.

        Args:
            unit_mm: millimetres in one unit of the drawing.
        """
        super().__init__()
        self._unit_mm = unit_mm

    def __missing__(self, mm: float) -> str:
        """Spell a length that has not come before, or not lately."""
        if len(self) >= _MOST_NUMBERS:
            self.clear()
        text = (_SPELLED % (mm / self._unit_mm)).rstrip("0")
        if text[-1] == ".":
            text = "0.0" if text == "-0." else f"{text}0"
        self[mm] = text
        return text


@lru_cache(maxsize=2)
def numbers(unit_mm: float) -> Numbers:
    """Return the numbers of all drawings in a unit: from part to part many are the same."""
    return Numbers(unit_mm)


def handles(first: int) -> Iterator[str]:
    """Yield handles that count up, each once, as the format spells them."""
    return chain(_handles_at_hand(first), map("%X".__mod__, count(first + _HANDLES_AT_HAND)))


@lru_cache(maxsize=1)
def _handles_at_hand(first: int) -> tuple[str, ...]:
    return tuple(f"{handle:X}" for handle in range(first, first + _HANDLES_AT_HAND))
