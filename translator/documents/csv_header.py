"""Which column of a table is which field: by the names people give their columns."""

import unicodedata
from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from translator.documents.csv_scan import Record


def plain_name(name: str) -> str:
    """Reduce a column's name to what is compared: letters and digits, case and blanks gone.

    "Pc. Mark", "PC MARK" and "pc_mark" are one name. A name of signs only, such as "#",
    stays as it is.
    """
    folded = unicodedata.normalize("NFKC", name).casefold()
    return "".join(c for c in folded if c.isalnum()) or folded.strip()


class Asked(Struct, frozen=True, kw_only=True):
    """What a table is asked for.

    Attributes:
        wanted: field -> names its column usually has; the first one found is taken.
        required: fields without which the table says nothing.
        columns: field -> name of its column as the settings give it; no other will do.
    """

    wanted: Mapping[str, tuple[str, ...]]
    required: Collection[str] = ()
    columns: Mapping[str, str]

    def names(self, field: str) -> tuple[str, ...]:
        """Return the names that a field's column may have."""
        own = self.columns.get(field)
        return self.wanted[field] if own is None else (own,)


def matched(cells: Sequence[str], asked: Asked) -> dict[str, int]:
    """Find the column of each field; a field whose column is not there is left out."""
    numbers: dict[str, int] = {}
    for place, cell in enumerate(cells):
        numbers.setdefault(plain_name(cell), place)
    numbers.pop("", None)
    found: dict[str, int] = {}
    for field in asked.wanted:
        for name in asked.names(field):
            number = numbers.get(plain_name(name))
            if number is not None and number not in found.values():
                found[field] = number
                break
    return found


def repeated(cells: Sequence[str], found: Mapping[str, int]) -> dict[str, tuple[int, ...]]:
    """Return the fields whose column's name stands more than once, and the columns' numbers."""
    counted = Counter(plain_name(c) for c in cells)
    return {
        field: tuple(i for i, c in enumerate(cells) if plain_name(c) == plain_name(cells[number]))
        for field, number in found.items()
        if counted[plain_name(cells[number])] > 1
    }


def header_row(rows: Sequence[Record], asked: Asked) -> int | None:
    """Return the number of the row that names the columns; None where no row does.

    It is the first that names all required fields, else the one that names most fields.
    """
    best, most = None, 0
    for number, row in enumerate(rows):
        if row.fault is not None:
            continue
        found = matched(row.cells, asked)
        if found and all(field in found for field in asked.required):
            return number
        if len(found) > most:
            best, most = number, len(found)
    return best
