"""JSON as this tool writes it: declared order, two blanks a level, small things on one line."""

import json
import re
from functools import lru_cache
from typing import Final

_WIDTH: Final = 100
"""Columns of a line that holds lists or objects inside each other."""

_RECORD: Final = 240
"""Columns of a line that is one object of plain values, such as a hole or a section."""

_UNSEEN: Final = re.compile(
    "[\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ud800-\udfff\ufeff]"
)
"""Signs that would steer a terminal or turn a line around, and those without bytes in UTF-8."""

_LINE: Final = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def json_text(value: object) -> str:
    """Print a value of dictionaries, lists, tuples, texts, numbers, booleans and None as JSON.

    Keys keep the order they have. An object or a list stands on one line where it fits into
    100 columns, else its members stand on lines of their own; an object of plain values may be
    longer, so that a hole is a line whatever is said of it. A number is printed with the
    fewest digits that read back as the same number. Signs that can't be seen are escaped, and
    so is half a surrogate pair, which UTF-8 has no bytes for. The text ends in a line end.

    Raises:
        ValueError: for a number that is not finite; JSON has no word for it.
    """
    text = "".join(_pieces(value, 0, 0))
    return _UNSEEN.sub(lambda sign: f"\\u{ord(sign[0]):04x}", text) + "\n"


def _pieces(value: object, depth: int, used: int) -> list[str]:
    """Print one value; ``used`` is what stands before it on its line, and a comma behind it."""
    line = _LINE(value)
    if not value or not isinstance(value, dict | list | tuple):
        return [line]
    if len(line) + used <= (_RECORD if _is_record(value) else _WIDTH):
        return [line]
    inner, outer = "  " * (depth + 1), "  " * depth
    names = _names(value)
    members = value.values() if isinstance(value, dict) else value
    brackets = "{}" if isinstance(value, dict) else "[]"
    pieces = [brackets[0], "\n"]
    for index, (name, member) in enumerate(zip(names, members, strict=True)):
        pieces += [",\n" if index else "", inner, name]
        pieces += _pieces(member, depth + 1, len(inner) + len(name) + 1)
    return [*pieces, "\n", outer, brackets[1]]


def _is_record(value: dict[str, object] | list[object] | tuple[object, ...]) -> bool:
    return isinstance(value, dict) and not any(
        isinstance(member, dict | list | tuple) for member in value.values()
    )


def _names(value: dict[str, object] | list[object] | tuple[object, ...]) -> list[str]:
    if isinstance(value, dict):
        return [_name(name) for name in value]
    return [""] * len(value)


@lru_cache(maxsize=1024)
def _name(name: str) -> str:
    """Spell the name of a field; documents have few of them, many times."""
    return f"{_LINE(name)}: "
