"""The room that texts of a drawing take, for the tests on overlaps; on the safe side."""

import math

import shapely

ROOM = {
    **dict.fromkeys("0123456789abcdeghknopqsuvxyz", 0.9),
    **dict.fromkeys("ABCDEFGHJKLNOPQRSTUVXYZ", 1.12),
    **dict.fromkeys("@%mwMW", 1.45),
    **dict.fromkeys(" .,:;'|!iljIftr-/()[]", 0.65),
}
FOREIGN = 1.7
"""Room for a letter, in letter heights: the broadest of the usual sans-serif fonts (capitals 0.73
of the size high) has 0.87 for digits and small letters, 1.08 for capitals, 1.37 for @, m and W,
and 0.63 for thin letters, marks and the blank."""

LOW, HIGH = -0.25, 1.25
"""A line of letters hangs below its baseline and stands above it, in letter heights."""

HAIR = 1e-6


def letters_boxes(texts):
    """The room of each text, turned about its foot; a hair less, so that touching is allowed."""
    return shapely.polygons([letters_ring(text) for text in texts])


def letters_ring(text):
    h = text.height
    long = sum(ROOM.get(c, 1.12 if c.isascii() else FOREIGN) for c in text.text) * h
    left = -long * text.align / 2.0 + HAIR
    right = left + long - 2.0 * HAIR
    turn = math.radians(text.turn)
    c, s = math.cos(turn), math.sin(turn)
    u, v = text.at
    return [
        (u + x * c - y * s, v + x * s + y * c)
        for x, y in (
            (left, LOW * h),
            (right, LOW * h),
            (right, HIGH * h - HAIR),
            (left, HIGH * h - HAIR),
        )
    ]
