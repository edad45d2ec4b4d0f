"""How large letters and dashes are, so that a piece of any length reads on one screen."""

from bisect import bisect_left
from typing import Final

from msgspec import Struct

from translator.model import Part, leg_names, leg_width

_HEIGHTS: Final = (2.5, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 56.0, 80.0)
"""Letter heights in mm: the series of ISO 3098 (steps of the square root of 2), carried on."""

_LETTERS_ALONG: Final = 110.0
"""Letter heights that go into the length of a piece."""

_LETTERS_ACROSS: Final = 30.0
"""Letter heights that go into the width of the widest leg, at least a tenth of the length."""

_DRAFTING_HEIGHT: Final = 3.5
"""Letter height in mm for which the line types are made."""


class Scale(Struct, frozen=True, kw_only=True):
    """Sizes of one drawing; the same for both legs of a part.

    Attributes:
        letter_mm: height of the notes' letters.
        unit_mm: millimetres in one unit of the drawing.
    """

    letter_mm: float
    unit_mm: float

    @property
    def dashes(self) -> float:
        """Factor on the lengths of the line types, which are in mm of paper."""
        return self.letter_mm / _DRAFTING_HEIGHT


def scale_of(part: Part) -> Scale:
    """Choose the sizes for a part; inch drawings have the inch as their unit."""
    widest = max([leg_width(part.section, leg) for leg in leg_names(part)])
    wish = max(part.length_mm / _LETTERS_ALONG, widest / _LETTERS_ACROSS)
    letter = _HEIGHTS[min(bisect_left(_HEIGHTS, wish), len(_HEIGHTS) - 1)]
    return Scale(letter_mm=letter, unit_mm=25.4 if part.units == "inch" else 1.0)
