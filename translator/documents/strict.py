"""Bytes to a JSON value, strictly: every field once, every number finite, nothing endless."""

import json
import math
import re
from typing import Any, Final

from msgspec import Struct

from translator.documents.locate import Json, Lines
from translator.documents.spoilt import LONGEST_NUMBER, repeated_or_unusable
from translator.documents.syntax import syntax_fault
from translator.findings import Finding, Severity
from translator.source import Source, Span, whole_file

LARGEST_BYTES: Final = 4_000_000
"""A part with 20,000 holes stays below; a larger file is no document of ours."""

MOST_CONTAINERS: Final = 300_000
"""Lists and objects of a file; 20,000 holes and the corners of all outlines stay far below."""

DEEPEST: Final = 64
"""Lists and objects inside each other; a part document needs eight."""

_NESTING: Final = re.compile(r'"(?:[^"\\]++|\\.)*+(?:"|\\?\Z)|[\[\]{}]', re.DOTALL)
_CONTAINERS: Final = frozenset({dict, list, tuple})
_MARK: Final = b"\xef\xbb\xbf"


class Tree(Struct, frozen=True, kw_only=True):
    """What one file holds.

    Attributes:
        path: name of the file.
        text: its text without a byte-order mark.
        value: the JSON value with lists as tuples.
        is_sound: whether it is JSON that can be looked into; else ``value`` means nothing.
        findings: what is wrong with the file as JSON.
    """

    path: str
    text: str
    value: Json
    is_sound: bool
    findings: tuple[Finding, ...]


def parse(source: Source, what: str, largest: int = LARGEST_BYTES) -> Tree:
    """Read the bytes as JSON in UTF-8, with or without a byte-order mark.

    Args:
        source: the file.
        what: what the file is to be, for the messages: "part document".
        largest: bytes that such a file may have.
    """
    size = len(source.data)
    if size > largest:
        message = f"the file has {size} bytes, more than the {largest} that a {what} may have"
        fault = _finding("json-too-large", message, whole_file(source.path))
        return Tree(path=source.path, text="", value=None, is_sound=False, findings=(fault,))
    containers = source.data.count(b"[") + source.data.count(b"{")
    if containers > MOST_CONTAINERS:
        message = (
            f"the file has {containers} brackets and braces that open, more than the"
            f" {MOST_CONTAINERS} that a {what} may have"
        )
        fault = _finding("json-too-large", message, whole_file(source.path))
        return Tree(path=source.path, text="", value=None, is_sound=False, findings=(fault,))
    notes: tuple[Finding, ...] = ()
    if source.data.startswith(_MARK):
        message = "the file begins with a byte-order mark, which JSON in UTF-8 does not need"
        where = whole_file(source.path)
        notes = (_finding("byte-order-mark", message, where, Severity.NOTE),)
    try:
        text = source.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        fault = _not_utf8(source, error.start, what)
        return Tree(path=source.path, text="", value=None, is_sound=False, findings=(*notes, fault))
    value, faults = _load(source.path, text, what)
    return Tree(
        path=source.path,
        text=text,
        value=value,
        is_sound=not faults,
        findings=(*notes, *faults),
    )


def _load(path: str, text: str, what: str) -> tuple[Json, tuple[Finding, ...]]:
    lines = Lines(path, text)
    spoilt: list[str] = []
    try:
        value = _loads(text, spoilt)
    except RecursionError:
        return None, _too_deep(lines, text)
    except json.JSONDecodeError as error:
        return None, _too_deep(lines, text) or (syntax_fault(lines, text, error, what),)
    if _is_deep(value):
        return None, _too_deep(lines, text)
    return value, tuple(repeated_or_unusable(lines, text)) if spoilt else ()


def _loads(text: str, spoilt: list[str]) -> Json:
    """Load JSON; what JSON text allows and a document must not hold is put into ``spoilt``."""

    def members(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        out = {name: tuple(v) if isinstance(v, list) else v for name, v in pairs}
        if len(out) < len(pairs):
            spoilt.append("name")
        return out

    def decimal(digits: str) -> float:
        number = float(digits)
        if not math.isfinite(number):
            spoilt.append(digits)
        return number

    def whole(digits: str) -> float:
        return int(digits) if len(digits) <= LONGEST_NUMBER else decimal("inf")

    return json.loads(
        text,
        object_pairs_hook=members,
        parse_float=decimal,
        parse_int=whole,
        parse_constant=decimal,
    )


def _is_deep(value: Json) -> bool:
    """Tell whether lists and objects stand too deep in each other."""
    level = [value] if type(value) in _CONTAINERS else []
    for _ in range(DEEPEST):
        level = [
            member
            for node in level
            for member in (node.values() if type(node) is dict else node)
            if type(member) in _CONTAINERS
        ]
        if not level:
            return False
    return bool(level)


def _too_deep(lines: Lines, text: str) -> tuple[Finding, ...]:
    """Say where the first bracket that goes too deep stands; nothing when there is none.

    Whatever else is wrong with such a text behind that bracket is not looked at: how far a
    decoder comes depends on how it is called.
    """
    depth = 0
    for match in _NESTING.finditer(text):
        character = text[match.start()]
        if character in "{[":
            depth += 1
        elif character in "}]":
            depth -= 1
        if depth > DEEPEST:
            message = f"lists and objects stand more than {DEEPEST} deep inside each other here"
            span = lines.span(match.start(), match.start() + 1)
            return (_finding("json-too-deep", message, span),)
    return ()


def _not_utf8(source: Source, offset: int, what: str) -> Finding:
    if source.data.startswith(_MARK):
        offset += len(_MARK)  # the decoder counts from behind the mark
    before = source.data[:offset].decode("utf-8-sig")
    place = Lines(source.path, before).span(len(before), len(before))
    span = place._replace(end_column=place.column + 1)
    byte = source.data[offset]
    message = f"the byte 0x{byte:02X} is not UTF-8, the only encoding of a {what}"
    return _finding("text-not-utf8", message, span)


def _finding(rule: str, message: str, span: Span, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(rule=rule, severity=severity, message=message, span=span, unit="")
