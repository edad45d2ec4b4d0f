"""The limits on what comes in, gathered from the modules that hold them to it.

``fresh.py`` writes them into ``schemas/LIMITS.md``; ``tests/test_limits.py`` holds each of them
against an input just inside and one just outside.
"""  # noqa: INP001 - a script, no package

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from translator.batch import archives, configuration, discover, library, waivers_file
from translator.documents import csv_scan, csv_table, spoilt, strict
from translator.lengths import parse
from translator.machines import load
from translator.model import Part
from translator.model.features import MOST_POINTS
from translator.model.part import Leg
from translator.readers.nc import _lines, _parse, _records
from translator.readers.part_text import _amounts, _families, _positions
from translator.syntax import limits, machine, parser


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit on what comes in.

    Attributes:
        name: short, for the test that holds it.
        subject: what kind of input.
        what: what is counted.
        value: the most there may be.
        beyond: what is said or done beyond it: the id of a finding, or words.
    """

    name: str
    subject: str
    what: str
    value: int
    beyond: str


FILE: Final = "any part file"
TEXT: Final = "part text (.bmk)"
NC: Final = "NC file"
JSON: Final = "part document (.json)"
PART: Final = "part, however it is written"
TABLE: Final = "table (CSV: bill, stock)"
ARCHIVE: Final = "zip archive"


def gathered() -> tuple[Limit, ...]:
    """Return all limits, by what they are on."""
    return (*_files(), *_parts(), *_texts(), *_nc(), *_documents(), *_tables(), *_archives())


def _limit(name: str, subject: str, what: str, value: int, beyond: str) -> Limit:
    return Limit(name=name, subject=subject, what=what, value=value, beyond=beyond)


def _files() -> Iterator[Limit]:
    yield _limit("file-bytes", FILE, "bytes", discover.LARGEST_BYTES, "`file-unreadable`")
    what = "bytes of backmark.toml"
    yield _limit("settings-bytes", "settings", what, configuration.LARGEST_BYTES, "exit code 2")
    what = "bytes of waivers.toml"
    yield _limit("waivers-bytes", "waivers", what, waivers_file.LARGEST_BYTES, "exit code 2")
    yield _limit(
        "machine-bytes", "machine profile", "bytes", load.LARGEST_BYTES, "`json-too-large`"
    )


def _parts() -> Iterator[Limit]:
    leg, part = (model.model_json_schema()["properties"] for model in (Leg, Part))
    features, trims = leg["features"]["maxItems"], leg["trims"]["maxItems"]
    mark = part["mark"]["maxLength"]
    said = "`field-wrong`, `value-out-of-range`"
    yield _limit("part-features", PART, "features of one leg", features, said)
    yield _limit("part-corners", PART, "corners of all contours and lines", MOST_POINTS, said)
    yield _limit("part-trims", PART, "trims of one leg", trims, said)
    yield _limit("part-mark", PART, "characters of a mark", mark, said)


def _texts() -> Iterator[Limit]:
    yield _limit("text-bytes", TEXT, "bytes", parser.LARGEST_BYTES, "`syntax`")
    yield _limit("text-line", TEXT, "characters of a line", parser.LONGEST_LINE, "`syntax`")
    what = "features of a file, and one more for every 4 characters of it"
    yield _limit("text-features", TEXT, what, limits.FREE_FEATURES, "`too-many-features`")
    what = "features of a leg"
    most = _positions.MOST_FEATURES
    yield _limit("text-leg-features", TEXT, what, most, "`too-many-features`")
    yield _limit("text-brackets", TEXT, "brackets in brackets", machine.DEEPEST, "`syntax`")
    what = "families that call each other"
    yield _limit("text-families", TEXT, what, _families.DEEPEST, "`families-too-deep`")
    what = "a count, like that of a repeat"
    yield _limit("text-count", TEXT, what, _amounts.MOST_COUNTED, "`count-too-large`")
    yield _limit("text-length", TEXT, "mm of a length", parse.LONGEST_MM, "`syntax`")
    yield _limit(
        "text-used-files", TEXT, "other files used", library.MOST_FILES, "`use-unreadable`"
    )
    what = "bytes of the other files used"
    yield _limit("text-used-bytes", TEXT, what, library.LARGEST_BYTES, "`use-unreadable`")


def _nc() -> Iterator[Limit]:
    yield _limit("nc-bytes", NC, "bytes", _lines.LARGEST_BYTES, "`nc-too-big`")
    yield _limit("nc-lines", NC, "lines", _lines.MOST_LINES, "`nc-too-big`")
    what = "characters of a line (the standard's own limit)"
    yield _limit("nc-line", NC, what, _lines.LONGEST_LINE, "`nc-long-line`, a warning: it is read")
    yield _limit("nc-parts", NC, "parts", _parse.MOST_SHEETS, "`nc-too-big`")
    what = "rows of holes and points of a part"
    yield _limit("nc-rows", NC, what, _records.MOST_RECORDS, "`nc-too-big`")


def _documents() -> Iterator[Limit]:
    yield _limit("json-bytes", JSON, "bytes", strict.LARGEST_BYTES, "`json-too-large`")
    what = "lists and objects"
    yield _limit("json-containers", JSON, what, strict.MOST_CONTAINERS, "`json-too-large`")
    what = "lists and objects inside each other"
    yield _limit("json-depth", JSON, what, strict.DEEPEST, "`json-too-deep`")
    what = "digits of a whole number"
    yield _limit("json-digits", JSON, what, spoilt.LONGEST_NUMBER, "`json-number-unusable`")


def _tables() -> Iterator[Limit]:
    yield _limit("csv-bytes", TABLE, "bytes", csv_table.LARGEST_BYTES, "`csv-too-large`")
    yield _limit("csv-rows", TABLE, "rows", csv_table.MOST_ROWS, "`csv-too-many-rows`")
    yield _limit("csv-cells", TABLE, "cells of a row", csv_scan.MOST_CELLS, "`csv-row-too-wide`")
    what = "characters of a cell"
    yield _limit("csv-cell", TABLE, what, csv_scan.LONGEST_CELL, "`csv-cell-too-long`")


def _archives() -> Iterator[Limit]:
    bad, large = "`archive-unreadable`", "`archive-too-large`"
    yield _limit("zip-bytes", ARCHIVE, "bytes", archives.LARGEST_ARCHIVE_BYTES, bad)
    yield _limit("zip-entries", ARCHIVE, "files and folders", archives.MOST_ENTRIES, bad)
    yield _limit("zip-list", ARCHIVE, "bytes of its list", archives.LARGEST_LIST_BYTES, bad)
    what = "bytes of a part file in it, unpacked"
    yield _limit("zip-file", ARCHIVE, what, archives.LARGEST_ENTRY_BYTES, large)
    what = "bytes of all part files in it, unpacked"
    yield _limit("zip-unpacked", ARCHIVE, what, archives.LARGEST_UNPACKED_BYTES, large)
    small = f"{archives.SMALL_BYTES:,}".replace(",", " ")
    what = f"bytes that one packed byte becomes, in a file of more than {small}"
    yield _limit("zip-ratio", ARCHIVE, what, archives.HIGHEST_RATIO, large)
    yield _limit("zip-in-zip", ARCHIVE, "archives inside each other", 1, "`archive-in-archive`")


_HEAD: Final = """\
# Limits on what comes in

What is larger than this is no part file that a shop sends. It is refused before it costs time or
memory, with a finding that says the limit; the other files of a delivery are read. Written by
`python .ci/fresh.py` from the modules that hold the limits; each is tested just inside and just
outside.

| on | what | at most | beyond it |
|---|---|---:|---|
"""

_ARCHIVES: Final = """\

# Zip archives

An archive is read where it lies; nothing is unpacked on disk. A file in it is called by the path
of the archive, `!/` and its name: `delivery.zip!/stair/C12.nc1`. That name, a folder in the
archive and a pattern (`'delivery.zip!/**/*.nc1'`) are also paths that a command takes.

- An archive in a folder is part of the delivery: its part files are read with the others, and a
  note counts them. `excludes` of the settings and `--exclude` leave it out like a file, and what
  is in it like what is in a folder (`delivery.zip!/old/*`; `old`).
- The settings and waivers that count are those around the archive. A `backmark.toml` or
  `waivers.toml` in it is named in a warning and not read: who sends parts does not set the rules.
- `use "lib.bmk"` in an archive finds files of the archive only.
- An archive in an archive is named and not opened. Of other archives (`.7z`, `.rar`, `.tar` ...)
  none is opened; in a folder a note names them.
- Not read, each with an error of its own: files that are encrypted, packed by another method than
  deflate, links, of a name with `..`, an empty step, a drive, a top or unseen signs, names that
  occur twice, bytes that two files share, bytes whose checksum is not that of the list. The other
  files of the archive are read. Names written with backslashes, or in letters that are not said
  to be UTF-8, are read and noted.
- Files that no reader claims are counted in a note; hidden ones are passed over, as in a folder.
"""


def page() -> str:
    """Return the page that lists all limits, and how archives are read within them."""
    rows = [f"| {one.subject} | {one.what} | {one.value:,} | {one.beyond} |" for one in gathered()]
    return _HEAD + "\n".join(rows) + "\n" + _ARCHIVES
