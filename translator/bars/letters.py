"""How wide a text is in a monospaced font, so that drawings know what fits."""

from typing import Final
from unicodedata import east_asian_width

ADVANCE: Final = 0.605
"""Width of a letter of a usual monospaced font as a share of its size."""


def text_width(text: str, size: float) -> float:
    """Return the width of a text in a monospaced font; wide characters take two places."""
    places = sum(2 if east_asian_width(c) in "WF" else 1 for c in text)
    return places * size * ADVANCE


def shortened(text: str, most: int) -> str:
    """Return a text of at most so many places; ``~`` says that it is cut off."""
    if text_width(text, 1.0) <= most * ADVANCE + 1e-9:
        return text
    kept = ""
    for character in text:
        if text_width(kept + character, 1.0) > (most - 1) * ADVANCE + 1e-9:
            break
        kept += character
    return f"{kept}~"
