"""Figures that are no lengths: decimals with a unit of their own, and angles."""

import re
from fractions import Fraction
from typing import Final

from translator.lengths.characters import BLANKS, shown
from translator.lengths.parse import LengthError, read_length
from translator.readers.part_text._book import SYNTAX, RefusalError
from translator.syntax.tree import Node, Word

_DECIMAL: Final = re.compile(r"[0-9]*\.?[0-9]+")
_DEGREE_SIGNS: Final = f"degrsDEGRS\u00b0{BLANKS}"
_LONGEST_DECIMAL: Final = 24


def decimal(word: Word, *, minus: bool = False) -> float:
    """Return the number that leads a word with a unit (``15deg``, ``12.2kg/m``) or stands alone.

    Raises:
        RefusalError: for a number of very many digits, or a fraction.
    """
    found = _DECIMAL.match(word.text)
    rest = "" if found is None else word.text[found.end() :]
    if found is None or len(found[0]) > _LONGEST_DECIMAL or (word.type == "NUMBER" and rest):
        raise RefusalError(
            SYNTAX, f"`{word.text[:_LONGEST_DECIMAL]}` is no decimal number.", word.extent
        )
    return -float(found[0]) if minus else float(found[0])


def degrees(angle: Node) -> float:
    """Return an angle in degrees, with its sign.

    Raises:
        RefusalError: for a number of very many digits, or parts that no rule has.
    """
    word, minus = angle.last_word, angle.has("MINUS")
    spelled = word.text.rstrip(_DEGREE_SIGNS)
    if _DECIMAL.fullmatch(spelled):
        return decimal(word, minus=minus)
    try:
        # 22-1/2 degrees is spelled as inches are, and exact as a decimal.
        mixed = read_length(spelled, "inch").bare or Fraction(0)
    except LengthError as fault:
        message = f"`{shown(word.text)}` has odd parts of a degree: write it as a decimal."
        raise RefusalError(SYNTAX, message, word.extent) from fault
    return float(-mixed if minus else mixed)
