"""Numbers in the cells of a table: which sign parts the decimals, and exact values."""

import re
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

LONGEST_NUMBER: Final = 24
"""Characters of a number."""

_PLAIN: Final = re.compile(r"[+-]?[0-9]+")
_SURE: Final = re.compile(  # one sign that can't part thousands
    r"[+-]?(?:[0-9]*(?P<sign>[.,])(?:[0-9]{1,2}|[0-9]{4,})|(?:[0-9]{4,}|0)(?P<far>[.,])[0-9]+)"
)
_GROUPED: Final = re.compile(  # thousands parted by one sign, decimals by the other
    r"[+-]?[0-9]{1,3}(?:(?:,[0-9]{3})+(?P<point>\.)[0-9]+|(?:\.[0-9]{3})+(?P<comma>,)[0-9]+)"
)
_MANY_GROUPS: Final = re.compile(r"[+-]?[0-9]{1,3}(?:(?:,[0-9]{3}){2,}|(?:\.[0-9]{3}){2,})")
_OPEN: Final = re.compile(r"[+-]?[0-9]{1,3}(?P<sign>[.,])[0-9]{3}")


def decimal_sign(texts: Iterable[str], delimiter: str) -> str:
    """Find the sign that parts the decimals in a table, from all of its numbers.

    Args:
        texts: the cells that hold numbers.
        delimiter: of the table; where a comma parts cells, a point parts decimals unless a
            number shows that it doesn't.

    Returns:
        "." or ",", or "" where the numbers contradict each other or leave it open.
    """
    signs = {sign for text in texts if (sign := _sure_sign(text))}
    if len(signs) == 1:
        return signs.pop()
    return "." if delimiter == "," and not signs else ""


def number(text: str, sign: str) -> Fraction | None:
    """Read a number exactly; None where it is none, or where it may be two numbers.

    "12.5" and "12,5" are sure; "1.234" and "1,234" are read by the sign of the table, and
    are None where that is not known.

    Args:
        text: the cell.
        sign: what ``decimal_sign`` found.
    """
    text = text.strip()
    if len(text) > LONGEST_NUMBER or not text.isascii():
        return None
    if _PLAIN.fullmatch(text):
        return Fraction(text)
    if _MANY_GROUPS.fullmatch(text):
        return Fraction(text.replace(",", "").replace(".", ""))
    own = _sure_sign(text)
    if not own and _OPEN.fullmatch(text):
        own = sign
    if not own:
        return None
    other = "." if own == "," else ","
    return Fraction(text.replace(other, "").replace(own, "."))


def whole_number(text: str, sign: str) -> int | None:
    """Read a count; "4", "4.0" and "4,00" are four; None where it is no whole number."""
    value = number(text, sign)
    return None if value is None or value.denominator != 1 else int(value)


def _sure_sign(text: str) -> str:
    """Return the sign that parts the decimals of one number; "" where that is not sure."""
    text = text.strip()
    found = _SURE.fullmatch(text)
    if found:
        return found["sign"] or found["far"]
    found = _GROUPED.fullmatch(text)
    return "" if found is None else (found["point"] or found["comma"])


def is_open(text: str) -> bool:
    """Tell whether a number may part thousands or decimals with its one sign: "1.234"."""
    text = text.strip()
    return _OPEN.fullmatch(text) is not None and not _sure_sign(text)
