"""Tables written as CSV: the same bytes for the same values, safe to open in a spreadsheet."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Final

Value = str | int | float | None
"""What a cell may hold; None and "" leave it empty."""

_FORMULA: Final = re.compile("'* *[=+\\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
"""Beginning of a text that a spreadsheet may take for a formula, full-width signs too; one
that is guarded already needs one more apostrophe, so that reading takes the right one off."""


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[Value]]) -> bytes:
    """Write a table after RFC 4180: UTF-8 without a mark, commas, lines ending in CR LF.

    A text that a spreadsheet would take for a formula gets an apostrophe before it; numbers
    are numbers and keep their sign. Floats are written in full without an exponent, as 292.1
    or 3048. Control characters of a text, except line ends and tabs, are left out.

    Args:
        header: names of the columns.
        rows: cells of each row, as many as the header has.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_MINIMAL)
    for row in ([*header], *rows):
        writer.writerow([_cell(value) for value in row])
    return out.getvalue().encode("utf-8", "replace")


def _cell(value: Value) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return harmless(value)
    return str(value) if isinstance(value, int) else number_text(value)


def harmless(text: str) -> str:
    """Return a text that no spreadsheet takes for a formula."""
    kept = "".join(c for c in text if c.isprintable() or c in "\t\r\n")
    return f"'{kept}" if _FORMULA.match(kept) else kept


def unguarded(text: str) -> str:
    """Take off the apostrophe that keeps a text from being a formula; the inverse of that."""
    return text[1:] if text.startswith("'") and _FORMULA.match(text) else text


def number_text(value: float) -> str:
    """Spell a number without an exponent and without needless noughts, to six decimals."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
