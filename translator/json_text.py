"""JSON as this tool writes it: declared order, two blanks a level, small things on one line."""

import json
import re
from collections.abc import Iterable
from functools import lru_cache
from itertools import repeat
from json.encoder import encode_basestring
from math import isfinite
from typing import Final

_WIDTH: Final = 100
"""Columns of a line that holds lists or objects inside each other."""

_RECORD: Final = 240
"""Columns of a line that is one object of plain values, such as a hole or a section."""

_UNSEEN: Final = re.compile(
    "[\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ud800-\udfff\ufeff]"
)
"""Signs that would steer a terminal or turn a line around, and those without bytes in UTF-8."""

_Holder = dict[str, object] | list[object] | tuple[object, ...]
_HOLDERS: Final = (dict, list, tuple)

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
    if not isinstance(value, _HOLDERS):
        text = _plain(value)
    else:
        text = _held(value, 0, 0)
        if len(text) <= 2 * _WIDTH and "\n" in text:  # alone it has a column more than inside
            line = _LINE(value)
            text = line if len(line) <= _WIDTH else text
    if not text.isascii() or "\x7f" in text:
        text = _UNSEEN.sub(lambda sign: f"\\u{ord(sign[0]):04x}", text)
    return text + "\n"


def _held(value: _Holder, depth: int, used: int) -> str:
    """Print an object or a list.

    Every value is spelt once: whether what holds it fits on a line follows from how long its
    members came out.

    Args:
        value: the object or list.
        depth: how many others it lies in.
        used: what stands before it on its line, and a comma behind it.
    """
    is_object = isinstance(value, dict)
    names = map(_name, value) if isinstance(value, dict) else repeat("", len(value))
    inner = 2 * depth + 3
    members = []
    holds_others = False
    for name, member in zip(names, _members(value), strict=True):
        if isinstance(member, _HOLDERS):
            holds_others = True
            members.append(name + _held(member, depth + 1, inner + len(name)))
        else:
            members.append(name + _plain(member))
    first, last = "{}" if is_object else "[]"
    length = sum(map(len, members)) + 2 * len(members)
    if length + used <= (_RECORD if is_object and not holds_others else _WIDTH) or not members:
        line = ", ".join(members)
        if not holds_others or "\n" not in line:
            return f"{first}{line}{last}"
    start = "\n" + "  " * (depth + 1)
    return f"{first}{start}{f',{start}'.join(members)}\n{'  ' * depth}{last}"


def _members(value: _Holder) -> Iterable[object]:
    return value.values() if isinstance(value, dict) else value


def _plain(value: object) -> str:
    """Print a value that holds no others."""
    if type(value) is float and isfinite(value):
        return repr(value)
    if type(value) is str:
        return encode_basestring(value)
    return _LINE(value)


@lru_cache(maxsize=1024)
def _name(name: str) -> str:
    """Spell the name of a field; documents have few of them, many times."""
    return f"{_LINE(name)}: "
