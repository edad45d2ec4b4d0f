"""Numbers and rows as the format lays them out; every length is rounded to 0.01 mm."""

from typing import Final

DECIMALS: Final = 2
MISSING: Final = ("", "-", ".", "0")
"""Texts that a reader takes as not given; a mark may be 0."""


def rounded(value: float) -> float:
    """Return a length as the file will carry it."""
    return round(value, DECIMALS) + 0.0


def number(value: float, width: int = 8, decimals: int = DECIMALS) -> str:
    """Return a number right-aligned in a column; -0.00 is written 0.00."""
    return f"{round(value, decimals) + 0.0:{width}.{decimals}f}"


def place(view: str, x: float, y: float) -> str:
    """Return the head of a row: view, x with the reference letter u, y."""
    return f"  {view or ' '}{number(x, 10)}u{number(y, 9)}"


def point(view: str, x: float, y: float, radius: float) -> str:
    """Return a row of a contour, with the four weld figures of a square edge."""
    return place(view, x, y) + number(radius, 9) + number(0.0) * 4


def text(value: str | None) -> str:
    """Return a header text line; a dash where nothing is said."""
    return f"  {value}" if value else "  -"
