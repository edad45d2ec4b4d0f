"""What coverage-guided fuzzing found (``tests/fuzz/README.md``), so that it stays found."""

import json
import time
from pathlib import Path

import pytest

from translator.batch.configuration import understood
from translator.batch.toml_fault import MOST_FAULTS
from translator.batch.waivers_file import understand
from translator.conventions import Conventions
from translator.documents.toml_text import MOST_NAMES
from translator.editor.tidy import tidied
from translator.readers.part_json import READER
from translator.source import Source


def read_json(part):
    data = json.dumps({"format": "backmark/part", "version": "1.0", "part": part}).encode()
    reading = READER.lower(READER.parse(Source(path="x.part.json", data=data)), Conventions())
    return reading, [finding.message for finding in reading.findings]


HOLE = {"id": "f1", "kind": "hole", "x_mm": 50.0, "y_mm": 50.0, "diameter_mm": 18.0}
PART = {
    "mark": "P1",
    "length_mm": 500.0,
    "section": {"kind": "flat", "width_mm": 100.0, "thickness_mm": 10.0},
    "legs": {"face": {"features": [HOLE]}},
}


def test_a_section_without_its_kind_beside_two_features_of_one_id():
    """fuzz_part_json: IndexError, since a fault of the part as a whole has no field."""
    section = {"cind": "flat", "width_mm": 100.0, "thickness_mm": 10.0}
    twice = {"face": {"features": [HOLE, HOLE]}}
    reading, said = read_json({**PART, "section": section, "legs": twice})
    assert reading.parts == ()
    assert any(message.startswith("kind of the section is missing") for message in said)
    assert any("f1" in message for message in said)


def test_text_that_was_no_utf8_for_a_blank_alone_is_laid_out():
    """fuzz_part_text: `format` took its own result for another text, as it had become ASCII."""
    holes = b"holes 18 gauge 50 at 50,\xa0100"
    text = b"units mm\npart P1 { section FB100x10 length 300 face { " + holes + b" } }\n"
    data = tidied(Source(path="x.bmk", data=text)).data
    assert data is not None
    assert data.isascii()
    assert b"at 50, 100" in data
    kept = tidied(Source(path="x.bmk", data=text + b"# caf\xe9\n")).data
    assert kept is not None
    assert b"caf\xe9" in kept


DENSE = {
    "one key of many names": ".".join(["a"] * 120_000) + "=1",
    "many keys of many names": "\n".join(".".join(["a"] * 40) + f".k{n}=1" for n in range(2000)),
    "many unknown tables": "\n".join(f"[t{n}]" for n in range(25_000)),
    "many unknown keys": "\n".join(f"k{n}=1" for n in range(25_000)),
    "many bad limits": "[limits]\n" + "\n".join(f"k{n}='1 d'" for n in range(16_000)),
}


@pytest.mark.parametrize("text", DENSE.values(), ids=DENSE)
def test_no_settings_or_waivers_take_long(text):
    """Found by hand after the fuzzers: both grew with the square of the file."""
    begun = time.process_time()
    own = understood(Path("backmark.toml"), text.encode())
    _, said = understand("waivers.toml", text.encode())
    assert time.process_time() - begun < 4.0  # a quarter of that on a machine of its own
    assert 0 < len(own.findings) <= MOST_FAULTS + 1
    assert said


def test_a_key_of_too_many_names_is_told_with_its_place():
    long = ".".join(["a"] * (MOST_NAMES + 1))
    (finding,) = understood(Path("b.toml"), f"fail_on = 'note'\n{long} = 1\n".encode()).findings
    assert (finding.span.line, finding.span.column) == (2, 1)
    assert finding.message == (
        "the settings file can't be understood: a key has more than the 32 names that it may have"
    )
    short = ".".join(["a"] * MOST_NAMES)
    (finding,) = understood(Path("b.toml"), f"{short} = 1\n".encode()).findings
    assert finding.rule == "setting-unknown"


def test_more_faults_than_are_listed_are_told():
    text = "\n".join(f"k{n} = 1" for n in range(MOST_FAULTS + 5))
    findings = understood(Path("b.toml"), text.encode()).findings
    assert len(findings) == MOST_FAULTS + 1
    assert findings[-1].message == (
        "more than 100 faults in this file: from here on none is listed"
    )
    assert findings[-1].span.line == MOST_FAULTS + 1


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "marked"])
@pytest.mark.parametrize("before", ["", "{", '{"\u00fc":\n "'], ids=["first", "second", "later"])
def test_a_byte_that_is_no_utf8_is_told_at_its_place_behind_a_mark_too(mark, before):
    """fuzz_part_json: UnicodeDecodeError; behind a byte-order mark places were three off."""
    data = mark + before.encode() + b"\xff}"
    reading = READER.lower(READER.parse(Source(path="x", data=data)), Conventions())
    (finding,) = [one for one in reading.findings if one.rule == "text-not-utf8"]
    assert "0xFF" in finding.message
    lines = before.split("\n")
    assert (finding.span.line, finding.span.column) == (len(lines), len(lines[-1]) + 1)
