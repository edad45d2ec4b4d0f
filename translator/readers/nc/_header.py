"""The header's 20 lines and its texts, as values."""

import re
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.conventions import AUTO, Conventions
from translator.readers.nc._book import Book
from translator.readers.nc._figures import Scanner
from translator.readers.nc._length import read_lengths
from translator.readers.nc._tree import Line, Sheet

MISSING: Final = ("", "-", ".", "0")
"""How writers leave a text field empty."""

MISSING_MARK: Final = ("", "-", ".")
"""A piece may well be called 0."""

MOST_PIECES: Final = 1_000_000
_LONGEST_MARK: Final = 200
_LONGEST_TEXT: Final = 4000
_FIRST_SIZE: Final = 9
_LENGTHS: Final = 5
"""So many of the sizes are lengths; behind the comma of the others three digits are usual."""

_SIZES: Final = (
    "the profile height",
    "the flange width",
    "the flange thickness",
    "the web thickness",
    "the radius",
    "the weight per metre",
    "the painting surface per metre",
    "the web start cut",
    "the web end cut",
    "the flange start cut",
    "the flange end cut",
)
_RIGHT_ANGLE: Final = 90.0
_SAME_DEG: Final = 0.05


class Cuts(Struct, frozen=True, kw_only=True):
    """Header cut angles in degrees from the square, as written; web is seen in view v."""

    web_start: float
    web_end: float
    flange_start: float
    flange_end: float


class Header(Struct, frozen=True, kw_only=True):
    """The header's values; texts None where missing, lengths in millimetres.

    ``lines`` maps the number of a header field (1 to 20) to its line number.
    """

    order: str | None
    drawing: str | None
    phase: str | None
    mark: str
    grade: str | None
    quantity: int
    designation: str | None
    length: float
    saw: float | None
    height: float
    flange: float
    flange_thickness: float
    web_thickness: float
    radius: float
    mass: float
    paint: float
    cuts: Cuts
    title: str | None
    remarks: tuple[str, ...]
    lines: dict[int, int]


def read_header(
    sheet: Sheet, path: str, conventions: Conventions, scanner: Scanner
) -> Header | None:
    """Read the header of a sheet; None with errors in the book when it cannot be read."""
    book = scanner.book
    if not sheet.fields:
        return None
    _account(sheet, book)
    comma = conventions.decimal_comma
    length_line = sheet.fields[8]
    lengths = read_lengths(length_line, comma, book) if length_line is not None else None
    quantity = _quantity(sheet.fields[5], comma, sheet.start, book)
    mark = _mark(sheet, _text(sheet.fields[3], MISSING_MARK), path, book)
    sizes = _sizes(sheet, scanner)
    if lengths is None or quantity is None or sizes is None:
        return None
    texts = [_text(line) for line in sheet.fields[:7]]
    title, remarks = _texts(sheet)
    return Header(
        order=texts[0],
        drawing=texts[1],
        phase=texts[2],
        mark=mark,
        grade=texts[4],
        quantity=quantity,
        designation=texts[6],
        length=lengths.length,
        saw=lengths.saw,
        height=sizes[0],
        flange=sizes[1],
        flange_thickness=sizes[2],
        web_thickness=sizes[3],
        radius=sizes[4],
        mass=sizes[5],
        paint=sizes[6],
        cuts=_cuts(sizes[7:], sheet, book),
        title=title,
        remarks=remarks,
        lines={n: line.number for n, line in enumerate(sheet.fields, start=1) if line is not None},
    )


def _account(sheet: Sheet, book: Book) -> None:
    """Take the header's lines as translated, and say what is odd about their spelling."""
    for line in (*sheet.fields, *sheet.texts):
        if line is not None:
            book.translate(line.number)
            if len(line.text.strip()) > _LONGEST_TEXT:
                text = f"header texts are longer than {_LONGEST_TEXT} characters; they were cut"
                book.warn("nc-text-too-long", text, line.number)
    _small_profile(sheet, book)


def _sizes(sheet: Sheet, scanner: Scanner) -> list[float] | None:
    """Read header lines 10 to 20; None with errors in the book when one cannot be read."""
    loose = replace(scanner, comma="yes") if scanner.comma == "open" else scanner
    sizes = [
        _size(sheet.fields[_FIRST_SIZE + i], what, scanner if i < _LENGTHS else loose)
        for i, what in enumerate(_SIZES)
    ]
    found = [size for size in sizes if size is not None]
    return found if len(found) == len(sizes) else None


def _small_profile(sheet: Sheet, book: Book) -> None:
    line = sheet.fields[7]
    if line is not None and line.text.strip() != sheet.profile:
        text = "block and profile codes are written in small letters"
        book.odd("nc-small-letters", text, line.number)


def _plain(text: str) -> str:
    return text.replace("\t", " ").strip()


def _text(line: Line | None, missing: tuple[str, ...] = MISSING) -> str | None:
    text = _plain(line.text) if line is not None else ""
    return None if text in missing else text[:_LONGEST_TEXT]


def _size(line: Line | None, what: str, scanner: Scanner) -> float | None:
    """Read one of the header's numbers; a blank line counts as 0."""
    if line is None:
        return None
    if not line.text.strip():
        scanner.book.warn("nc-number-missing", f"{what} is blank; taken as 0", line.number)
        return 0.0
    value = scanner.single(line, what)
    is_angle = what.endswith("cut")
    if value is not None and value < 0.0 and not is_angle:
        text = f"{what} is {value:g}, less than 0"
        scanner.book.refuse("nc-number-unreadable", text, line.number)
        return None
    return value


def _mark(sheet: Sheet, mark: str | None, path: str, book: Book) -> str:
    """Return the piece mark; the file's name with an error when there is none."""
    line = sheet.fields[3]
    at = line.number if line is not None else sheet.start
    if mark is not None and len(mark) <= _LONGEST_MARK:
        return mark
    name = re.split(r"[/\\]", path)[-1]
    stem = re.sub(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]", "_", name.rpartition(".")[0] or name)
    stem = stem[:_LONGEST_MARK] or "-"
    if mark is None:
        text = f"the piece mark (header line 4) is missing; the file's name {stem!r} stands for it"
        book.fail("nc-mark-missing", text, at)
        return stem
    text = f"the piece mark has {len(mark)} characters, more than {_LONGEST_MARK}; it was cut"
    book.fail("nc-mark-too-long", text, at)
    return mark[:_LONGEST_MARK]


def _quantity(line: Line | None, comma: str, start: int, book: Book) -> int | None:
    """Return the number of pieces, or None with an error when it is no number."""
    text = _plain(line.text) if line is not None else ""
    at = line.number if line is not None else start
    if text in ("", "-", "0"):
        book.warn("nc-quantity", f"the quantity is {text or 'blank'}; taken as 1", at)
        return 1
    match = re.fullmatch(r"\+?(\d{1,9})(?:([.,])(0*))?", text)
    if match is None or (match[2] == "," and comma == "no"):
        text = f"the quantity (header line 6) is {text[:20]!r}, which is no whole number"
        book.refuse("nc-quantity", text, at)
        return None
    if match[2]:
        book.odd("nc-quantity-real", f"the quantity is written as {text}, with decimals", at)
        if match[2] == ",":
            book.odd("nc-decimal-comma", "decimal commas instead of points", at)
    pieces = int(match[1])
    if pieces == 0:
        book.warn("nc-quantity", f"the quantity is {text}; taken as 1", at)
        return 1
    if pieces > MOST_PIECES:
        book.refuse("nc-quantity", f"the quantity is {pieces}, more than {MOST_PIECES:,}", at)
        return None
    return pieces


def _texts(sheet: Sheet) -> tuple[str | None, tuple[str, ...]]:
    """Return title and remarks from the header's text lines.

    The first text is the title, unless line 21 is marked as empty by a dash.
    """
    written = [_plain(line.text) for line in sheet.texts]
    texts = [text[:_LONGEST_TEXT] for text in written if text not in MISSING]
    if written and written[0] != "" and written[0] in MISSING:
        return None, tuple(texts)
    return (texts[0], tuple(texts[1:])) if texts else (None, ())


def _cuts(values: list[float], sheet: Sheet, book: Book) -> Cuts:
    """Return the header's cut angles; 90 degrees is how some writers say square."""
    clean = []
    for offset, value in enumerate(values):
        line = sheet.fields[16 + offset]
        at = line.number if line is not None else sheet.start
        if abs(abs(value) - _RIGHT_ANGLE) <= _SAME_DEG:
            text = f"{_SIZES[7 + offset]} is {value:g} degrees; taken as 0, a square cut"
            book.warn("nc-cut-angle", text, at)
            clean.append(0.0)
        elif abs(value) >= _RIGHT_ANGLE:
            text = f"{_SIZES[7 + offset]} is {value:g} degrees, not between -90 and 90"
            book.refuse("nc-cut-angle", text, at)
            clean.append(0.0)
        else:
            clean.append(value)
    return Cuts(web_start=clean[0], web_end=clean[1], flange_start=clean[2], flange_end=clean[3])


def comma_rule(conventions: Conventions, *, proven: bool) -> str:
    """Return the scanner's rule for commas: a setting, else what the sheet proves."""
    if conventions.decimal_comma != AUTO:
        return conventions.decimal_comma
    return "yes" if proven else "open"
