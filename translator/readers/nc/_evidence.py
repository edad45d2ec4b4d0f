"""What one file says about the open conventions of its writer."""

from collections.abc import Iterable
from typing import Final

from translator.conventions import AUTO, CHOICES, Conventions, Evidence, Testimony, Weight
from translator.conventions.comment import stated_setting
from translator.readers.nc._book import Book, Place
from translator.readers.nc._header import read_header
from translator.readers.nc._read import is_ours, read_records, scanner_of
from translator.readers.nc._readings import DEFAULTS, read_all
from translator.readers.nc._records import Records
from translator.readers.nc._seen import Seen
from translator.readers.nc._testing import ALL_TESTS
from translator.readers.nc._tree import Sheet, Tree
from translator.readers.nc._writer import piece_of, writer_of

_MOST: Final = 50
"""Testimonies of one file for one setting; more would say nothing new."""


def evidence(tree: Tree) -> Evidence:
    """Return what a file says about the open conventions; never raises."""
    records = [_records(tree, sheet) for sheet in tree.sheets]
    found = [record for record in records if record is not None]
    place = Place(path=tree.path, lines={line.number: line for line in tree.lines})
    testimonies: list[Testimony] = []
    undecided: set[str] = set()
    for sheet in tree.sheets:
        testimonies += _stated(sheet, place)
    # What a file says of itself stands above what a doubtful hole seems to tell.
    said = frozenset(testimony.setting for testimony in testimonies)
    for record in found:
        testimonies += (t for t in _weighed(record, place) if t.setting not in said)
        undecided |= set(read_all(record, Conventions()).deciding)
    # A default is used for slots; it is in doubt only where the file itself speaks against it.
    undecided |= {
        t.setting for t in testimonies if t.value != dict(DEFAULTS).get(t.setting, t.value)
    }
    return Evidence(
        writer=writer_of(tree),
        piece=piece_of(found[0] if len(found) == 1 else None, tree),
        path=tree.path,
        testimonies=tuple(testimonies),
        undecided=tuple(name for name in CHOICES if name in undecided),
    )


def _records(tree: Tree, sheet: Sheet) -> Records | None:
    book = Book()
    conventions = Conventions()
    scanner = scanner_of(sheet, conventions, book)
    header = read_header(sheet, tree.path, conventions, scanner)
    if header is None or not is_ours(sheet, header):
        return None
    records = read_records(sheet, header, conventions, scanner)
    return None if any(remark.is_fatal for remark in book.remarks) else records


def _stated(sheet: Sheet, place: Place) -> Iterable[Testimony]:
    """Yield what the file says of itself in comment lines."""
    for line in sheet.comments:
        setting = stated_setting(line.text)
        # A setting that is never open, such as nominal_inch, is the file's own: no evidence.
        if setting is not None and AUTO in CHOICES[setting[0]]:
            name, value = setting
            yield Testimony(
                setting=name,
                value=value,
                weight=Weight.PROOF,
                message=f"line {line.number} states it",
                span=place.span(line.number),
            )


def _weighed(records: Records, place: Place) -> Iterable[Testimony]:
    counts: dict[tuple[str, str], int] = {}
    for test in ALL_TESTS:
        for seen in test(records):
            count = (seen.setting, f"{seen.value} {seen.weight}")
            counts[count] = counts.get(count, 0) + 1
            if counts[count] <= _MOST:
                yield _testimony(seen, place)


def _testimony(seen: Seen, place: Place) -> Testimony:
    return Testimony(
        setting=seen.setting,
        value=seen.value,
        weight=seen.weight,
        message=f"line {seen.line}: {seen.message}",
        span=place.span(seen.line),
    )
