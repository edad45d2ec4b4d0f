"""What coverage-guided fuzzing found (``tests/fuzz/README.md``), so that it stays found."""

import json

from translator.conventions import Conventions
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
