"""The cells of a bill read into figures; every one that can't be read is a finding."""

import re
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from typing import Final, TypeVar

from msgspec import Struct, field

from translator.documents.csv_faults import MOST_FAULTS
from translator.documents.csv_numbers import is_open, number, whole_number
from translator.documents.csv_table import Row
from translator.findings import Finding, Severity
from translator.lengths.characters import plain, shown
from translator.lengths.parse import INCH, Length, LengthError, Unit, read_length
from translator.rules._bill import KILOGRAM, POUND
from translator.tables.designations import parse_section
from translator.tables.profiles import OTHERS, is_several, split_word

MOST_PIECES: Final = 1_000_000
"""Pieces of one row."""

_LENGTH_UNITS: Final[dict[str, Unit]] = {
    **dict.fromkeys(("in", "inch", "inches", "ftin"), "inch"),
    "mm": "mm",
}
_MASS_UNITS: Final = {
    **dict.fromkeys(("kg", "kgs", "kilograms"), KILOGRAM),
    **dict.fromkeys(("lb", "lbs", "pounds"), POUND),
}
_WITH_UNIT: Final = re.compile(r"([0-9.,+-]+) *(mm|inches|inch|in\.?|\"|)")
_MASS: Final = re.compile(r"([0-9.,]+) *(kgs?|lbs?)?\.?", re.IGNORECASE)

Value = TypeVar("Value")


def length_unit(header: str) -> Unit | None:
    """Return the unit that the name of a length's column says: "Length (mm)" is mm."""
    return _LENGTH_UNITS.get(_last_word(header))


def mass_unit(header: str) -> Fraction | None:
    """Return the kilograms in the unit that the name of a mass's column says."""
    return _MASS_UNITS.get(_last_word(header))


def _last_word(header: str) -> str:
    *before, last = ["", *re.findall("[a-z]+", header.lower())]
    return f"ft{last}" if before[-1:] == ["ft"] else last


class Cells(Struct, frozen=True, kw_only=True):
    """The cells of one bill, and what is wrong with them.

    Attributes:
        sign: what parts the decimals of the bill's numbers; "" where that is not known.
        units: what bare lengths are in; None where not said.
        findings: filled on the way, one for each cell, up to a number of each kind.
        empty: field -> how many of its cells are empty.
    """

    sign: str
    units: Unit | None
    findings: list[Finding] = field(default_factory=list)
    empty: Counter[str] = field(default_factory=Counter)
    more: Counter[str] = field(default_factory=Counter)

    def quantity(self, row: Row) -> int | None:
        """Read how many pieces a row asks for; without that a row says nothing."""
        if not row.text("quantity"):
            self._fault(row, "quantity", "no number of pieces")
        return self._read(row, "quantity", self._quantity)

    def length(self, row: Row) -> Length | None:
        """Read a length; a bare one stays bare where nobody says its unit."""
        return self._read(row, "length", self._length)

    def mass(self, row: Row) -> Fraction | None:
        """Read a mass, in the unit of its column."""
        return self._read(row, "mass", self._mass)

    def section(self, row: Row) -> tuple[str, bool]:
        """Read a section: its name, "" where there is none, and whether it is made here."""
        text = row.text("section")
        if not text:
            self._is_empty(row, "section")
            return "", True
        if is_other(text):
            return text, False
        readings = [parse_section(text, unit) for unit in ("mm", "inch")]
        if all(reading.section is None for reading in readings):
            self._fault(row, "section", str(readings[0].fault), Severity.WARNING)
            return "", True
        return text, True

    def text(self, row: Row, name: str) -> str:
        """Return a cell as it stands."""
        text = row.text(name)
        if not text:
            self._is_empty(row, name)
        return text

    def _read(self, row: Row, name: str, read: Callable[[str], Value]) -> Value | None:
        text = row.text(name)
        if not text:
            self._is_empty(row, name)
            return None
        try:
            return read(text)
        except LengthError as error:
            self._fault(row, name, str(error))
            return None

    def _quantity(self, text: str) -> int:
        value = whole_number(text, self.sign)
        if value is None or not 0 <= value <= MOST_PIECES:
            raise LengthError(f"{shown(text)} is no number of pieces: 0 to {MOST_PIECES:,}")
        return value

    def _length(self, text: str) -> Length:
        found = _WITH_UNIT.fullmatch(text.strip().lower())
        if found is not None:
            value = number(found[1], self.sign)
            if value is None and is_open(found[1]):
                raise LengthError(_open(text))
            if value is not None and value >= 0:
                text = f"{float(value):.6f}{found[2]}"
        length = read_length(text, self.units or "inch")
        if length.bare is not None and self.units is not None:
            bare = length.bare * (INCH if self.units == "inch" else 1)
            return Length(mm=bare, unit=self.units, bare=None)
        if length.bare is not None and length.bare.denominator != 1 and "/" in text:
            return Length(mm=length.mm, unit="inch", bare=None)  # fractions are inches
        return length

    def _mass(self, text: str) -> Fraction:
        found = _MASS.fullmatch(text.strip())
        value = None if found is None else number(found[1], self.sign)
        if value is None or value < 0:
            is_either = found is not None and is_open(found[1])
            raise LengthError(_open(text) if is_either else f"{shown(text)} is no mass")
        return value

    def _is_empty(self, row: Row, name: str) -> None:
        if name in row.layout.columns and name != "quantity":
            self.empty[name] += 1

    def _fault(
        self, row: Row, name: str, message: str, severity: Severity = Severity.ERROR
    ) -> None:
        self.more[name] += 1
        if self.more[name] > MOST_FAULTS:
            return
        self.findings.append(
            Finding(
                rule="bill-cell-unreadable",
                severity=severity,
                message=f"{message.rstrip('.')}; the {name} of {row.text('mark')} is not compared",
                span=row.span(name),
                mark=row.text("mark"),
                unit="",
            )
        )


def _open(text: str) -> str:
    return f"{shown(text)} may part thousands or decimals: write one number so that it can't"


def is_other(text: str) -> bool:
    """Tell whether a section's name is that of a kind of section that is not made here."""
    spelled = plain(text).lower()
    return is_several(spelled) or split_word(spelled)[0] in OTHERS
