"""The part list: figures against tables and sums by hand, three spellings, one order."""

import csv
import io
import json

import jsonschema
import pytest
from click.testing import CliRunner

from translator.batch.part_list import natural, part_list
from translator.batch.part_list_document import (
    COLUMNS,
    part_list_csv,
    part_list_json,
    part_list_schema,
)
from translator.batch.part_list_text import part_list_text
from translator.commands import main
from translator.conventions import Conventions
from translator.findings import CAUTION
from translator.lengths.parse import parse_length
from translator.pipeline import Input, examine
from translator.readers import readers
from translator.source import Source

TEXT = """\
units inch
order "TQ-7"   drawing "E-101"   revision "B"
grade A36
part C12 "clip" {
  section L4x4x3/8  length 11-1/2  quantity 24
  leg a { holes 13/16 gauge 2-1/2 at 1-1/4, 3 @ 3 }
  leg b { slots 13/16 x 1 across leg gauge 2-1/2 at 1-1/4, 3 @ 3 }
}
part C2 { section FB4x3/8  length 9.3  quantity 3 }
"""
METRIC = """\
units mm
order "TQ-7"   drawing "E-105"
grade S275JR
part W1 {
  section L90x90x10  length 1000  quantity 2
  leg a { holes 22 gauge 50 at 100 }
}
"""


def listed(*texts):
    (reader,) = (r for r in readers() if r.name == "bmk")
    inputs = [
        Input(
            source=Source(path=f"{number}.bmk", data=text.encode()),
            reader=reader,
            conventions=Conventions(),
        )
        for number, text in enumerate(texts)
    ]
    outcome = examine(inputs)
    return part_list(outcome.parts, [j.digest for j in outcome.judged], outcome.refused)


def rows(found):
    return list(csv.DictReader(io.StringIO(part_list_csv(found).decode(), newline="")))


def test_figures_of_a_listed_angle():
    """L90x90x10 weighs 13.4 kg/m and has 0.351 m2 of surface a metre (EN 10056-1, table 1)."""
    (row,) = listed(METRIC).parts
    assert row.mass_kg == pytest.approx(13.4, abs=0.05)
    assert row.total_mass_kg == pytest.approx(2 * 13.4, abs=0.1)
    assert row.paint_area_m2 == pytest.approx(0.351, abs=0.006)
    assert (row.holes, row.slots, row.openings, row.stops) == (1, 0, 0, 1)
    assert row.length == "1000mm"


def test_figures_of_an_inch_angle():
    """L4x4x3/8 weighs 9.8 lb/ft (AISC Manual, table 1-7); 11-1/2 in. of it 9.39 lb."""
    by_mark = {row["mark"]: row for row in rows(listed(TEXT))}
    assert float(by_mark["C12"]["mass_lb"]) == pytest.approx(9.8 * 11.5 / 12, rel=0.01)
    assert float(by_mark["C12"]["total_mass_lb"]) == pytest.approx(24 * 9.39, rel=0.01)
    assert by_mark["C12"]["length"] == '11-1/2"'
    assert (by_mark["C12"]["holes"], by_mark["C12"]["slots"], by_mark["C12"]["stops"]) == (
        *("4", "4", "4"),
    )


def test_sums_are_those_of_the_rows():
    found = listed(TEXT, METRIC)
    total = found.total
    assert (total.marks, total.pieces) == (3, 29)
    assert total.holes == 24 * 4 + 2
    assert total.slots == 24 * 4
    assert total.length_mm == pytest.approx(24 * 292.1 + 3 * 236.22 + 2000)
    assert total.mass_kg == pytest.approx(sum(row.total_mass_kg for row in found.parts))
    for name in ("marks", "pieces", "holes", "slots", "openings", "mass_kg", "length_mm"):
        assert getattr(total, name) == pytest.approx(
            sum(getattr(one, name) for one in found.sections)
        )
    assert [one.section for one in found.sections] == ["FB4x3/8", "L4x4x3/8", "L90x90x10"]


def test_lengths_read_back_with_their_unit():
    for row in listed(TEXT, METRIC).parts:
        assert float(parse_length(row.length, "mm")) == pytest.approx(row.length_mm, abs=1e-6)


def test_an_older_revision_is_left_out_and_named():
    found = listed(TEXT, TEXT.replace('"B"', '"A"'))
    assert found.total.pieces == 27
    assert [(one.mark, one.revision, one.newer) for one in found.left_out] == [
        ("C12", "A", "B"),
        ("C2", "A", "B"),
    ]
    text = part_list_text(found)
    assert "left out: C12 revision A of 1.bmk: revision B in 0.bmk replaces it" in text


def test_a_part_with_errors_says_so():
    found = listed(TEXT.replace("gauge 2-1/2 at", "gauge 5 at", 1))
    why = {row.mark: row.why_not for row in found.parts}
    assert why == {"C2": "", "C12": "it has errors"}
    assert "not to be made yet: C12 of 0.bmk: it has errors" in part_list_text(found)


def test_the_order_of_files_makes_no_difference():
    one, other = listed(TEXT, METRIC), listed(METRIC, TEXT)
    assert [row.mark for row in one.parts] == [row.mark for row in other.parts]
    assert one.total == other.total


@pytest.mark.parametrize(
    "marks",
    [
        pytest.param(["C2", "C12", "C12a", "C100"], id="by-number"),
        pytest.param(["1", "2", "10", "A"], id="digits-first"),
        pytest.param(["", "A", "A1", "A01b"], id="short-first"),
    ],
)
def test_marks_are_sorted_by_their_numbers(marks):
    assert sorted(dict.fromkeys(marks[::-1]), key=natural) == marks


def test_the_document_is_held_to_its_schema():
    schema = part_list_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator(schema)
    document = json.loads(part_list_json(listed(TEXT, METRIC)))
    assert not list(checker.iter_errors(document))
    assert document["caution"] == CAUTION
    document["part_list"]["parts"][0]["quantity"] = -1
    assert list(checker.iter_errors(document))


def test_text_fits_the_page_and_ends_in_the_caution():
    text = part_list_text(listed(TEXT, METRIC))
    assert all(len(line) <= 100 for line in text.splitlines())
    assert text.replace("\n", " ").rstrip().endswith(CAUTION)
    assert "order TQ-7, drawing E-101" in text
    assert "kg each" in text
    assert "lb each" in part_list_text(listed(TEXT))


def test_a_formula_in_a_title_stays_a_text():
    (row,) = rows(listed('units mm\npart A "=1+1" { section FB100x10  length 100 }\n'))
    assert row["title"] == "'=1+1"


def test_no_parts_make_a_list_too():
    found = listed("units mm\n")
    assert part_list_text(found).startswith("no parts")
    assert part_list_csv(found).decode() == ",".join(COLUMNS) + "\r\n"


def run(*arguments):
    return CliRunner().invoke(main, ["list", *map(str, arguments)])


def test_the_command_writes_by_the_ending(tmp_path):
    (tmp_path / "a.bmk").write_text(TEXT)
    for name, start in (("l.csv", b"mark,order"), ("l.json", b"{"), ("l.txt", b"order")):
        ran = run(tmp_path / "a.bmk", "--out", tmp_path / "out" / name)
        assert ran.exit_code == 0, ran.output
        assert (tmp_path / "out" / name).read_bytes().startswith(start)
    printed = run(tmp_path / "a.bmk", "--format", "csv")
    assert printed.stdout.splitlines() == (
        (tmp_path / "out" / "l.csv").read_text(encoding="utf-8").splitlines()
    )


def test_the_command_ends_with_1_and_says_what_is_wrong(tmp_path):
    (tmp_path / "a.bmk").write_text(TEXT.replace("gauge 2-1/2 at", "gauge 5 at", 1))
    ran = run(tmp_path / "a.bmk", "--format", "csv")
    assert ran.exit_code == 1
    assert "feature-off-leg" in ran.stderr
    assert "it has errors" in ran.stdout
