"""Each limit of ``schemas/LIMITS.md`` holds: just inside is read in time, just outside is told.

The list is gathered by ``.ci/limits.py`` from the modules that hold the limits. The limits are
common practice, no source, but for the 80 characters of an NC line, which the standard sets.
"""

import functools
import importlib.util
import json
import re
import struct
import sys
import time
import zipfile
from pathlib import Path

import pytest
from nc_files import flat
from zip_files import CLIP, KNOWN, forged, patched, zipped

from translator.batch.configuration import read_configuration
from translator.batch.discover import InputFile, discover, load
from translator.batch.waivers_file import SideFiles
from translator.conventions import Conventions
from translator.documents.csv_table import read_table
from translator.errors import WorkError
from translator.machines import load_machine
from translator.source import Source

ROOT = Path(__file__).resolve().parent.parent
SPEC = importlib.util.spec_from_file_location("limits", ROOT / ".ci" / "limits.py")
assert SPEC is not None
assert SPEC.loader is not None
LISTED = importlib.util.module_from_spec(SPEC)
sys.modules["limits"] = LISTED
SPEC.loader.exec_module(LISTED)

LIMITS = {limit.name: limit for limit in LISTED.gathered()}
READERS = {reader.name: reader for reader in KNOWN}
MOST_SECONDS = 2.0
SLACK = 2.0
"""The machines that tests run on are shared: CPU time there is twice what it is alone."""


def said(findings):
    return [(finding.rule, finding.message) for finding in findings]


def read(kind, data, **more):
    """Read one file; return what is said."""
    given = data.encode() if isinstance(data, str) else data
    reader = READERS[kind]
    reading = reader.lower(
        reader.parse(Source(path=f"x.{kind}", data=given, **more)), Conventions()
    )
    return said(reading.findings)


def refused(call, *given):
    """Return the refusal of a whole file, or nothing."""
    try:
        call(*given)
    except WorkError as error:
        return [("exit code 2", str(error))]
    return []


def hole(size):
    """Write a file of that size that takes no room on the disk."""
    path = Path("hole.bmk")
    with path.open("wb") as stream:
        stream.truncate(size)
    return path


def text(*statements, section="FB1000x10", length="90000"):
    inner = "\n".join(statements)
    return (
        f"units mm\npart P {{ section {section} length {length} grade A36\nface {{ {inner} }} }}\n"
    )


def document(features=(), trims=(), **more):
    part = {
        "mark": "P",
        "quantity": 1,
        "length_mm": 900000.0,
        "section": {"kind": "flat", "width_mm": 1000.0, "thickness_mm": 10.0},
        "legs": {"face": {"features": list(features), "trims": list(trims)}},
        "ends": {},
        **more,
    }
    return json.dumps({"format": "backmark/part", "version": "1.0", "part": part})


def holes(count):
    return [
        {"id": f"f{n}", "kind": "hole", "x_mm": 9.0 + 9 * n, "y_mm": 50.0, "diameter_mm": 5.0}
        for n in range(count)
    ]


def ring(corners):
    inner = [{"x_mm": 9.0 + n / 10, "y_mm": 9.0 + n % 2, "bulge": 0.0} for n in range(corners - 2)]
    ends = [{"x_mm": 700.0, "y_mm": 90.0, "bulge": 0.0}, {"x_mm": 9.0, "y_mm": 90.0, "bulge": 0.0}]
    return [*inner, *ends]


def openings(corners):
    """Lay the corners into two contours: it is their sum that counts."""
    first = ring(corners - 1000)
    second = [{**corner, "y_mm": corner["y_mm"] + 200.0} for corner in ring(1000)]
    kinds = [
        {"id": f"f{n}", "kind": "opening", "contour": c} for n, c in enumerate((first, second))
    ]
    return read("json", document(kinds))


def trims(count):
    return [
        {
            "kind": "notch",
            "side": "lower",
            "x_from_mm": 50.0 + 90 * number,
            "x_to_mm": 59.0 + 90 * number,
            "across_mm": 9.0,
        }
        for number in range(count)
    ]


def families(count):
    """Let so many families call each other."""
    deepest = "family f1(n) { section FB100x10 length 80 * n }\n"
    rest = "".join(f"family f{n}(n) = f{n - 1}(n = n) {{ }}\n" for n in range(2, count + 1))
    return read("bmk", f"units mm\n{deepest}{rest}part P = f{count}(n = 1) {{ }}\n")


def used_files(count):
    names = [f"{n}.bmk" for n in range(count)]
    for name in names:
        Path(name).write_text("units mm\n")
    Path("x.bmk").write_text("".join(f'use "{name}"\n' for name in names))
    return used()


def used_bytes(count):
    Path("a.bmk").write_bytes(b"#" * (count // 2))
    Path("b.bmk").write_bytes(b"#" * (count - count // 2))
    Path("x.bmk").write_text('use "a.bmk"\nuse "b.bmk"\n')
    return used()


def used():
    source = load(InputFile(path="x.bmk", reader="bmk"))
    return [("use-unreadable", why) for why in source.unread.values()]


def nc_parts(count):
    return read("nc", flat() * count)


def nc_rows(count):
    return read("nc", flat("BO", *(f"  v {10 + n}.00u 60.00 10.00" for n in range(count))))


def nc_padded(count):
    data = flat()
    return read("nc", data + b"*" * (count - len(data)))


def nc_lines(count):
    data = flat()
    return read("nc", data + b"**\r\n" * (count - data.count(b"\n")))


def padded(start, end, count, sign=" "):
    return start + sign * (count - len(start) - len(end)) + end


def containers(count):
    """Lay empty lists into a field that takes none; the document itself has some, too."""
    sound = document()
    free = count - sound.count("[") - sound.count("{") - 1
    return read("json", document(carried=[[]] * free))


def deep(count):
    return read("json", '{"a":' + "[" * (count - 1) + "]" * (count - 1) + "}")


def table(data):
    return said(read_table(Source(path="b.csv", data=data.encode()), {"mark": ("mark",)}).findings)


def sparse_zip(size):
    data = forged(["a.txt"])
    path = Path("x.zip")
    with path.open("wb") as stream:
        stream.seek(size - len(data))
        stream.write(data)
    return archive(path)


def archive(path):
    """Search a folder with an archive and a sound file; return what is said."""
    Path("sound.bmk").write_bytes(CLIP)
    return said(discover([Path()], KNOWN).findings) if path.is_file() else []


def zip_of(data):
    Path("x.zip").write_bytes(data)
    return archive(Path("x.zip"))


def zip_list(size):
    names = [b"x" * 60_000] * (size // 60_046)
    left = size - len(names) * 60_046
    return zip_of(forged([*names, b"y" * (left - 46)]))


def zip_file(size):
    path = zipped(Path("x.zip"), [("a.bmk", CLIP)])
    return archive(patched(path, b"PK\x01\x02", 20, struct.pack("<2L", size, size)))


def zip_unpacked(size):
    each = size // 16
    sizes = {n: each + (size - 16 * each) * (n == 0) for n in range(16)}
    places = {n: n * (each + 200) for n in range(16)}
    return zip_of(forged([f"{n}.bmk" for n in range(16)], sizes=sizes, entries=places))


def zip_ratio(ratio):
    path = zipped(Path("x.zip"), [("a.bmk", CLIP)])
    return archive(patched(path, b"PK\x01\x02", 20, struct.pack("<2L", 1000, 1000 * ratio)))


def zip_in_zip(depth):
    data = CLIP
    for level in range(depth):
        data = zipped(Path("x.zip"), [("a.bmk" if level == 0 else "in.zip", data)]).read_bytes()
    return zip_of(data)


CASES = {
    "file-bytes": lambda n: [
        ("file-unreadable", message)
        for _, message in refused(load, InputFile(path=hole(n).as_posix(), reader="bmk"))
    ],
    "settings-bytes": lambda n: refused(settings_of, n),
    "waivers-bytes": lambda n: refused(waivers_of, n),
    "machine-bytes": lambda n: said(
        load_machine(Source(path="m.json", data=padded("{", "}", n).encode()))[1]
    ),
    "part-features": lambda n: read("json", document(holes(n))),
    "part-corners": openings,
    "part-trims": lambda n: read("json", document(trims=trims(n))),
    "part-mark": lambda n: read("json", document(mark="P" * n)),
    "text-bytes": lambda n: read("bmk", ("#" + "x" * 99_998 + "\n") * 40 + "#" * (n - 4_000_000)),
    "text-line": lambda n: read("bmk", "#" + "x" * (n - 1)),
    "text-features": lambda n: read("bmk", counted(n)),
    "text-leg-features": lambda n: read(
        "bmk", "# " + "x" * 90_000 + "\n" + text(f"holes 9 gauge 50 at 1, {n - 1} @ 0.1")
    ),
    "text-brackets": lambda n: read("bmk", text(length="(" * n + "900" + ")" * n)),
    "text-families": families,
    "text-count": lambda n: read("bmk", text().replace("grade", f"quantity {n} grade")),
    "text-length": lambda n: read("bmk", text(length=f"{n}")),
    "text-used-files": used_files,
    "text-used-bytes": used_bytes,
    "nc-bytes": nc_padded,
    "nc-lines": nc_lines,
    "nc-line": lambda n: read("nc", flat("BO", padded("  v 10.00u 60.00 10.00", "", n))),
    "nc-parts": nc_parts,
    "nc-rows": nc_rows,
    "json-bytes": lambda n: read("json", padded(document(), "", n)),
    "json-containers": containers,
    "json-depth": deep,
    "json-digits": lambda n: read("json", document(quantity=int("1" * n))),
    "csv-bytes": lambda n: table("mark\n" + "x\n" * 10 + " " * (n - 25)),
    "csv-rows": lambda n: table("mark\n" + "x\n" * n),
    "csv-cells": lambda n: table("mark\n" + ",".join("x" * n) + "\n"),
    "csv-cell": lambda n: table("mark\n" + "x" * n + "\n"),
    "zip-bytes": sparse_zip,
    "zip-entries": lambda n: zip_of(forged([f"{k}" for k in range(n)])),
    "zip-list": zip_list,
    "zip-file": zip_file,
    "zip-unpacked": zip_unpacked,
    "zip-ratio": zip_ratio,
    "zip-in-zip": zip_in_zip,
}
"""Limit -> what is said of an input that has so many of what is counted."""

OTHER_WORDS = {
    "file-bytes": "64 MB",
    "settings-bytes": "256 kB",
    "waivers-bytes": "256 kB",
    "text-features": "",  # it grows with the file, see test_part_text_faults.py
    "text-families": "15 others",
    "text-length": "a kilometre",
    "zip-in-zip": "an archive in an archive is not opened",
}
"""How a limit is put where a figure in full would not be read."""


def settings_of(size):
    Path("backmark.toml").write_bytes(b"#" * size)
    read_configuration(Path("backmark.toml"))


def waivers_of(size):
    Path("waivers.toml").write_bytes(b"#" * size)
    SideFiles([Path()]).of(Path(), read_configuration(None))


def counted(features):
    """Make so many features more than come with the length of the file itself."""
    start = text("holes 9 gauge 50 at 1, 99999 @ 0.01", length="90000")
    allowed = features + len(start) // 4
    return start.replace("99999", f"{allowed - 1:05}")


def rules_of(limit):
    return set(re.findall(r"`([a-z0-9-]+)`", limit.beyond)) or {"exit code 2"}


def test_each_limit_that_is_stated_is_held_here():
    assert set(CASES) == set(LIMITS)
    assert len(LIMITS) == len(LISTED.gathered())


@pytest.mark.parametrize("name", LIMITS)
def test_just_inside_is_read_in_time_and_just_outside_is_told(tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    limit, case = LIMITS[name], CASES[name]
    case(min(limit.value, 100))  # what is loaded once does not count
    begun = time.process_time()
    inside = case(limit.value)
    took = time.process_time() - begun
    rules = rules_of(limit)
    assert [(rule, message) for rule, message in inside if rule in rules] == []
    assert took < MOST_SECONDS * SLACK
    begun = time.process_time()
    outside = [message for rule, message in case(limit.value + 1) if rule in rules]
    assert time.process_time() - begun < MOST_SECONDS * SLACK
    assert outside
    figures = OTHER_WORDS.get(name, f"{limit.value}")
    assert any(figures in message.replace(",", "") for message in outside), outside


def test_the_page_is_fresh_and_names_each_limit():
    page = (ROOT / "schemas" / "LIMITS.md").read_text(encoding="utf-8")
    assert page == LISTED.page()
    for limit in LIMITS.values():
        assert f"| {limit.subject} | {limit.what} | {limit.value:,} |" in page


@functools.cache
def words_of(path):
    return path.read_text(encoding="utf-8")


def test_no_named_limit_on_an_input_is_left_out():
    """A module of a reader that holds a file's size against a limit is in the list."""
    named = {
        path.relative_to(ROOT).as_posix()
        for room in ("readers", "syntax", "documents", "machines", "batch")
        for path in sorted((ROOT / "translator" / room).rglob("*.py"))
        if re.search(r"^LARGEST_BYTES: Final = ", words_of(path), re.MULTILINE)
    }
    own = {"translator/batch/index.py"}  # what this program wrote itself
    listed = {
        "translator/batch/configuration.py",
        "translator/batch/discover.py",
        "translator/batch/library.py",
        "translator/batch/waivers_file.py",
        "translator/documents/csv_table.py",
        "translator/documents/strict.py",
        "translator/machines/load.py",
        "translator/readers/nc/_lines.py",
        "translator/syntax/parser.py",
    }
    assert named - own == listed


def test_zip_written_by_another_is_no_forgery(tmp_path):
    """The forged archives above are archives to the standard library, too."""
    path = tmp_path / "x.zip"
    path.write_bytes(forged(["a.bmk", "b.txt"]))
    assert zipfile.ZipFile(path).namelist() == ["a.bmk", "b.txt"]
