"""Header line 9: length and saw length, whose comma clashes with decimal commas."""

import re
from typing import Final

from msgspec import Struct

from translator.conventions import AUTO
from translator.readers.nc._book import Book
from translator.readers.nc._figures import LARGEST
from translator.readers.nc._tree import Line

_LEAST_SAW: Final = 0.9
"""A saw length is not shorter than this share of the length."""

_FAR_BEHIND: Final = 4
_NUMBER: Final = re.compile(r"[+-]?(?:\d{1,7}(?:\.\d*)?|\.\d+)")
_GROUPED: Final = re.compile(r"\d{1,3}(?:,\d{3})+(?:\.\d*)?|\d{1,3}(?:\.\d{3})+,\d*")


class Lengths(Struct, frozen=True, kw_only=True):
    """Length and saw length in millimetres; the latter None when it is not given."""

    length: float
    saw: float | None


def read_lengths(line: Line, comma: str, book: Book) -> Lengths | None:
    """Read header line 9.

    Args:
        line: the line.
        comma: the setting decimal_comma: "auto", "yes" or "no".
        book: where faults are told.

    Returns:
        The lengths; None with an error in the book when the line cannot be read.
    """
    text = re.sub(r"\s*mm\b", "", line.text).strip().rstrip(",; ").strip()
    if "\t" in line.text:
        book.odd("nc-tab", "tabs were read as blanks", line.number)
    if "*" in text:
        said = "a number is written as asterisks: it did not fit its column and is lost"
        book.refuse("nc-number-overflow", said, line.number)
        return None
    pairs = _readings(text, comma)
    if len(pairs) != 1:
        _refuse(text, pairs, line, book)
        return None
    (texts,) = pairs
    if "." not in text and any("." in part for part in texts):
        book.odd("nc-decimal-comma", "decimal commas instead of points", line.number)
    values = [float(part) for part in texts]
    return _checked(values, line, book)


def _readings(text: str, comma: str) -> list[tuple[str, ...]]:
    """Return every way to read the line, as one or two number texts."""
    if _GROUPED.fullmatch(text) and comma == AUTO:
        if "." not in text:
            return [(text.replace(",", ""),), (text.replace(",", "."),)]
        by_point = text.rfind(".") > text.rfind(",")
        point, blank = (".", ",") if by_point else (",", ".")
        grouped = text.replace(blank, "").replace(point, ".")
        return _numbers([(grouped,), tuple(text.split(",", 1))])
    if "." in text or comma == "no" or "," not in text:
        return _numbers([tuple(re.split(r"\s*,\s*|\s+", text))])
    return _numbers(_with_commas(text, comma))


def _with_commas(text: str, comma: str) -> list[tuple[str, ...]]:
    """Read a line without points, after the rules of the header's section."""
    commas = text.count(",")
    if commas == 3:  # noqa: PLR2004 - two decimal commas and the one between
        match = re.fullmatch(r"\s*(\d+),(\d*)\s*,\s*(\d+),(\d*)\s*", text)
        return [(f"{match[1]}.{match[2]}", f"{match[3]}.{match[4]}")] if match else []
    if commas == 1:
        before, behind = text.split(",")
        apart = before[-1:].isspace() or behind[:1].isspace() or len(behind) >= _FAR_BEHIND
        if apart and comma != "yes":
            return [(before.strip(), behind.strip())]
        return [(f"{before.strip()}.{behind.strip()}",)]
    if commas == 2:  # noqa: PLR2004
        first, second, third = (part.strip() for part in text.split(","))
        pairs = [(f"{first}.{second}", third), (first, f"{second}.{third}")]
        return [p for p in pairs if _is_saw_length(p)]
    return []


def _is_saw_length(pair: tuple[str, ...]) -> bool:
    if not all(_NUMBER.fullmatch(part) for part in pair):
        return False
    return float(pair[1]) >= _LEAST_SAW * float(pair[0])


def _numbers(readings: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    return [
        reading
        for reading in readings
        if len(reading) in (1, 2) and all(_NUMBER.fullmatch(part) for part in reading)
    ]


def _refuse(text: str, readings: list[tuple[str, ...]], line: Line, book: Book) -> None:
    shown = text[:40]
    if not readings:
        said = f"the length line {shown!r} is no length and no pair of length and saw length"
    else:
        ways = " or ".join(
            f"length {r[0]}" + (f" with saw length {r[1]}" if len(r) > 1 else "") for r in readings
        )
        said = f"the length line {shown!r} may be {ways}; write it with points and no separators"
    book.refuse("nc-length-unreadable", said, line.number)


def _checked(values: list[float], line: Line, book: Book) -> Lengths | None:
    length = values[0]
    if not 0.0 < length <= LARGEST:
        said = f"length {length:g} mm is not between 0 and {LARGEST:g} mm"
        book.refuse("nc-length-unreadable", said, line.number)
        return None
    saw = values[1] if len(values) > 1 else None
    if saw is not None and saw <= 0.0:
        said = f"saw length {saw:g} mm is not greater than 0; it was taken as not given"
        book.odd("nc-saw-length", said, line.number)
        saw = None
    if saw is not None and saw < length:
        said = f"saw length {saw:g} mm is shorter than the length of {length:g} mm"
        book.warn("nc-saw-length", said, line.number)
    return Lengths(length=length, saw=saw)
