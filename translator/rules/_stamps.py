"""The room that a stamp takes on its leg."""

import math
from typing import Final

from translator.model import Stamp

LETTER_WIDTH: Final = 0.6
"""Width of a letter with its gap, as a share of its height (from memory)."""


def stamp_corners(stamp: Stamp, mark: str) -> tuple[tuple[float, float], ...]:
    """Return the corners of the letters' box; it turns about the stamp's own point.

    Args:
        stamp: one without text stamps the piece mark.
        mark: the piece mark.
    """
    letters = len(stamp.text if stamp.text is not None else mark)
    width, height = LETTER_WIDTH * stamp.height_mm * letters, stamp.height_mm
    cosine = math.cos(math.radians(stamp.angle_deg))
    sine = math.sin(math.radians(stamp.angle_deg))
    return tuple(
        (stamp.x_mm + u * cosine - v * sine, stamp.from_heel_mm + u * sine + v * cosine)
        for u, v in ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    )
