"""File names for piece marks: readable, safe on every system, never shared by two parts.

A mark keeps its letters, digits and ``. _ + -``; every other byte of its UTF-8 spelling is
written as ``~`` and two hexadecimal digits. So two marks never get one name, and a name can
be read back to its mark.
"""

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable
from typing import Final

LONGEST: Final = 120
"""Characters of a stem; with the longest suffix it stays under the 255 bytes of a file name."""

_KEPT: Final = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._+-")
_LEADING: Final = frozenset(".-+")
_RESERVED: Final = frozenset(
    ["CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"]
    + [f"{port}{n}" for port in ("COM", "LPT") for n in range(10)]
)
_CUT: Final = "~~"
_JOIN: Final = "~-"


def stems(keys: Iterable[tuple[str, str]]) -> dict[tuple[str, str], str]:
    """Return a file stem for each (order, mark) of a delivery.

    The stem is the mark alone; the order goes before it where two orders of the delivery
    share the mark. Names that differ in capitals only are told apart by escaping the small
    letters, since some file systems are case-blind.
    """
    distinct = sorted(set(keys))
    marks = Counter(mark.casefold() for mark in {mark for _, mark in distinct})
    owners = Counter(mark for _, mark in distinct)
    orders = Counter(order.casefold() for order in {order for order, _ in distinct})
    names: dict[tuple[str, str], str] = {}
    for order, mark in distinct:
        stem = _escape(mark, _small if marks[mark.casefold()] > 1 else _odd)
        if owners[mark] > 1:
            before = _escape(order, _small if orders[order.casefold()] > 1 else _odd)
            stem = f"{before}{_JOIN}{stem}"
        names[order, mark] = _short(stem, f"{order}\0{mark}")
    return names


def _odd(character: str) -> bool:
    return character not in _KEPT


def _small(character: str) -> bool:
    return character not in _KEPT or character.islower()


def _escape(text: str, must: Callable[[str], bool]) -> str:
    reserved = text.split(".", 1)[0].rstrip(" ").upper() in _RESERVED
    out: list[str] = []
    for index, character in enumerate(text):
        leading = index == 0 and (reserved or character in _LEADING)
        out.append(_hex(character) if leading or must(character) else character)
    return "".join(out)


def _hex(character: str) -> str:
    return "".join(f"~{byte:02X}" for byte in character.encode("utf-8", "surrogatepass"))


def _short(stem: str, key: str) -> str:
    if len(stem) <= LONGEST:
        return stem
    digest = hashlib.sha256(key.encode("utf-8", "surrogatepass")).hexdigest()[:24].upper()
    return f"{stem[: LONGEST - len(_CUT) - len(digest)]}{_CUT}{digest}"
