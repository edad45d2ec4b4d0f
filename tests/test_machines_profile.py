"""Machine profiles: read strictly, every fault in words and at its place."""

import json
import re
import time
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from machine_parts import BOTH, document, drill, machine, oblong, punch, read, tool

from translator.json_text import json_text
from translator.machines.field_words import FIELDS
from translator.machines.load import MOST_FAULTS
from translator.machines.profile import Machine
from translator.machines.schema import machine_schema
from translator.resources import resource
from translator.source import Span

SAMPLES = sorted((Path(__file__).parent.parent / "samples" / "machines").glob("*.machine.json"))
SCHEMA = jsonschema.Draft202012Validator(machine_schema())


def told(text):
    made, findings = read(text)
    return made, [
        f"{f.span.line}:{f.span.column}: {f.severity}: {f.message} [{f.rule}]" for f in findings
    ]


def messages(raw):
    made, findings = read(document(raw))
    assert made is None
    assert all(f.span.path == "m.machine.json" for f in findings)
    return [(f.rule, f.message) for f in findings]


LINE = {"name": "Line 1", "angles": {}, "stations": [punch(tool(), tool("5", 18.0))]}

WRONG = {
    "no name": ({"angles": {}}, ("field-missing", "name of the machine is missing")),
    "empty name": (
        {"name": "", "angles": {}},
        ("field-wrong", "name of the machine has 0 characters, it must have at least 1"),
    ),
    "neither angles nor flats": (
        {"name": "x"},
        (
            "field-wrong",
            "the machine: it takes neither angles nor flats: one of them must be there",
        ),
    ),
    "a misspelt field": (
        {"name": "x", "angles": {}, "statoins": []},
        ("field-unknown", "the machine has no field statoins; did you mean stations?"),
    ),
    "a field of nothing": (
        {"name": "x", "angles": {"coolant": 1}},
        ("field-unknown", "angles has no field coolant"),
    ),
    "a text for a number": (
        {"name": "x", "angles": {"leg": {"least_mm": "40"}}},
        ("field-wrong", 'least_mm of leg of angles is "40", it must be a number'),
    ),
    "a range turned round": (
        {"name": "x", "angles": {"leg": {"least_mm": 90, "most_mm": 89.99}}},
        ("field-wrong", "leg of angles: most_mm 89.99 is less than least_mm 90"),
    ),
    "a size of nothing": (
        {"name": "x", "angles": {}, "stations": [punch(tool(diameter=0))]},
        (
            "field-wrong",
            'diameter_mm of tool "4" of station "P1" is 0, it must be greater than 0',
        ),
    ),
    "no such side": (
        {"name": "x", "angles": {}, "stations": [punch(side="top")]},
        (
            "field-wrong",
            'side of station "P1" is "top", it must be "left", "right" or "both"',
        ),
    ),
    "a station without a name": (
        {"name": "x", "angles": {}, "stations": [{"side": "left", "process": "punch"}]},
        ("field-missing", "name of station 1 is missing"),
    ),
    "no such shape": (
        {"name": "x", "angles": {}, "stations": [punch({"number": "4", "shape": "square"})]},
        (
            "field-wrong",
            (
                'shape of tool "4" of station "P1" is "square", it must be "centre", "oblong" or'
                ' "round"'
            ),
        ),
    ),
    "no shape": (
        {"name": "x", "angles": {}, "stations": [punch({"number": "4", "diameter_mm": 22})]},
        (
            "field-missing",
            (
                'shape of tool "4" of station "P1" is missing, it must be "centre", "oblong" or'
                ' "round"'
            ),
        ),
    ),
    "a round tool with a length": (
        {"name": "x", "angles": {}, "stations": [punch(tool(length_mm=30))]},
        (
            "field-unknown",
            'tool "4" of station "P1" has no field length_mm',
        ),
    ),
    "an oblong tool too short": (
        {"name": "x", "angles": {}, "stations": [punch(oblong(length=18))]},
        (
            "field-wrong",
            'tool "7" of station "P1": length 18 mm is not more than its width of 18 mm',
        ),
    ),
    "an oblong drill": (
        {"name": "x", "angles": {}, "stations": [drill(oblong())]},
        ("field-wrong", "station \"D1\": tool '7' is oblong; a drill is round"),
    ),
    "two tools of one number": (
        {"name": "x", "angles": {}, "stations": [punch(tool(), tool())]},
        ("field-wrong", "station \"P1\": two tools have the number '4'"),
    ),
    "two stations of one name": (
        {"name": "x", "angles": {}, "stations": [punch(), punch()]},
        ("field-wrong", "the machine: two stations have the name 'P1'"),
    ),
    "a force without its factor": (
        {"name": "x", "angles": {}, "stations": [punch(force_kn=400)]},
        (
            "field-wrong",
            'station "P1": force_kn needs shear_factor beside it, to tell the load from the grade',
        ),
    ),
    "a drill that presses": (
        {"name": "x", "angles": {}, "stations": [drill(force_kn=400, shear_factor=0.75)]},
        ("field-wrong", 'station "D1": force_kn is a press\'s; a drill has none'),
    ),
    "a factor of more than one": (
        {"name": "x", "angles": {}, "stations": [punch(force_kn=400, shear_factor=1.01)]},
        ("field-wrong", 'shear_factor of station "P1" is 1.01, it must be at most 1'),
    ),
    "a mirror image": (
        {"name": "x", "angles": {}, "placements": [{"lead_end": "start", "leg_a": "right"}]},
        (
            "field-wrong",
            (
                "placement 1: with the start end leading and the heel down, leg a lies left; right"
                " would be the mirror image"
            ),
        ),
    ),
    "no placement": (
        {"name": "x", "angles": {}, "placements": []},
        ("field-wrong", "placements of the machine has 0 entries, it must have at least 1"),
    ),
    "a slug without a length": (
        {"name": "x", "angles": {}, "cut_off": {"kind": "shear", "cut": "slug"}},
        ("field-wrong", 'cut_off: slug_mm goes with cut "slug", and only with it'),
    ),
    "no such cut": (
        {"name": "x", "angles": {}, "cut_off": {"kind": "torch"}},
        ("field-wrong", 'kind of cut_off is "torch", it must be "saw" or "shear"'),
    ),
    "a saw without a kerf": (
        {"name": "x", "angles": {}, "cut_off": {"kind": "saw"}},
        ("field-missing", "kerf_mm of cut_off is missing"),
    ),
    "a saw that can't cut square": (
        {
            "name": "x",
            "angles": {},
            "cut_off": {
                "kind": "saw",
                "kerf_mm": 5,
                "angles": {"left": {"least_deg": 10, "most_deg": 45}},
            },
        },
        (
            "field-wrong",
            (
                "left of angles of cut_off: the range from 10 to 45 degrees does not hold 0, the"
                " square cut"
            ),
        ),
    ),
    "a marker without letters": (
        {"name": "x", "angles": {}, "marker": {"side": "left", "heights_mm": []}},
        ("field-wrong", "heights_mm of marker has 0 entries, it must have at least 1"),
    ),
    "a height below nothing": (
        {"name": "x", "angles": {}, "marker": {"side": "left", "heights_mm": [10, -1]}},
        ("field-wrong", "entry 2 of heights_mm of marker is -1, it must be greater than 0"),
    ),
    "no such hand work": (
        {"name": "x", "angles": {}, "second_work": ["welding"]},
        (
            "field-wrong",
            (
                'entry 1 of second_work is "welding", it must be "hole", "slot", "opening", "cope",'
                ' "clip", "rounding", "notch", "outline", "countersink", "tapping", "reaming" or'
                ' "mitre"'
            ),
        ),
    ),
    "an object for a list": (
        {"name": "x", "angles": {}, "stations": {}},
        ("field-wrong", "stations of the machine is an empty object, it must be a list"),
    ),
}


@pytest.mark.parametrize(("raw", "expected"), WRONG.values(), ids=WRONG)
def test_a_fault_is_a_sentence(raw, expected):
    assert messages(raw) == [expected]


def test_every_fault_is_told_and_stands_at_its_place():
    text = """{
  "format": "backmark/machine", "version": "1.0",
  "machine": {
    "name": "Line 1",
    "angles": {"leg": {"least_mm": -1}},
    "stations": [
      {"name": "P1", "side": "left", "process": "punch",
       "tools": [{"number": "4", "shape": "round", "diameter_mm": 22, "plase": "crib"}]},
      {"name": "P2", "side": "left", "process": "laser"}
    ]
  }
}
"""
    made, lines = told(text)
    assert made is None
    assert lines == [
        "5:36: error: least_mm of leg of angles is -1, it must be at least 0 [field-wrong]",
        (
            '8:71: error: tool "4" of station "P1" has no field plase; did you mean place?'
            " [field-unknown]"
        ),
        (
            '9:49: error: process of station "P2" is "laser", it must be "punch" or "drill"'
            " [field-wrong]"
        ),
    ]
    assert read(text)[1][0].span == Span("m.machine.json", 5, 36, 5, 38)
    assert (read(text)[1][0].value, read(text)[1][0].limit, read(text)[1][0].unit) == (-1, 0, "mm")


HEADS = {
    "nothing": (b"", "1:1: error: the file is empty; a machine profile is one JSON object"),
    "not JSON": (
        b'{"format": backmark}',
        '1:12: error: a value is expected here, not "backmark"',
    ),
    "not an object": (
        b"[]",
        "1:1: error: the document is an empty list, it must be one object that holds one machine",
    ),
    "another format": (
        document(LINE).replace("backmark/machine", "backmark/part"),
        '1:12: error: format is "backmark/part", it must be "backmark/machine"',
    ),
    "a newer major version": (
        document(LINE).replace('"1.0"', '"2.0"'),
        '1:43: error: version is "2.0", only versions 1.x can be read',
    ),
    "no machine": (
        b'{"format": "backmark/machine", "version": "1.0"}',
        "1:1: error: machine is missing, it must be an object",
    ),
    "more beside the machine": (
        document(LINE).replace('"machine": {', '"part": {}, "machine": {'),
        "1:50: error: the document has no field part",
    ),
    "a field twice": (
        b'{"format": "backmark/machine",\n "version": "1.0", "version": "1.0"}',
        '2:20: error: the field "version" stands here again; it stood on line 2 before',
    ),
    "latin letters": (
        b'{"format": "\xe7"}',
        "1:13: error: the byte 0xE7 is not UTF-8, the only encoding of a machine profile",
    ),
}


@pytest.mark.parametrize(("data", "expected"), HEADS.values(), ids=HEADS)
def test_what_stands_around_the_machine(data, expected):
    made, lines = told(data)
    assert made is None
    assert [line.rpartition(" [")[0] for line in lines] == [expected]


def test_a_newer_minor_version_is_read_with_a_note():
    made, lines = told(document(LINE).replace('"1.0"', '"1.7"'))
    assert made is not None
    assert lines == [
        (
            '1:43: note: version is "1.7", newer than the 1.0 known here; fields added since are'
            " reported as unknown [version-newer]"
        )
    ]


def test_a_schema_line_and_a_caution_may_stand_in_it():
    raw = json.loads(document(LINE)) | {"$schema": "x.json", "caution": "take care"}
    assert read(json.dumps(raw))[1] == ()


def test_a_profile_is_frozen_and_compares_whole():
    made, _ = read(document(LINE))
    assert made == read(document(LINE))[0]
    with pytest.raises(Exception, match="frozen"):
        made.name = "Line 2"


def test_both_feeds_are_there_when_none_is_named():
    placements = machine().placements
    assert [(p.lead_end, p.heel, p.leg_a) for p in placements] == [
        ("start", "down", "left"),
        ("far", "down", "right"),
    ]
    assert machine(placements=BOTH).placements == placements


def test_too_many_faults_are_counted_not_listed():
    raw = {"name": "x", "angles": {}, "stations": [{} for _ in range(50)]}
    found = messages(raw)
    assert len(found) == MOST_FAULTS + 1
    assert found[-1][1] == "the machine has 150 faults, more than are listed"


HOSTILE = {
    "unknown fields": json.dumps(
        {
            "format": "backmark/machine",
            "version": "1.0",
            "machine": {f"f{i}": 0 for i in range(18_000)},
        }
    ),
    "stations": document({"name": "x", "angles": {}, "stations": [{}] * 60_000}),
    "nested": '{"machine": ' * 50_000,
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_hostile_file_takes_no_time(text):
    start = time.process_time()
    made, findings = read(text)
    assert time.process_time() - start < 2.0
    assert made is None
    assert 0 < len(findings) <= MOST_FAULTS + 1


@given(data=st.binary(max_size=300))
@settings(max_examples=150, deadline=None, derandomize=True)
def test_any_bytes_are_findings(data):
    made, findings = read(data)
    assert made is None
    assert findings


@given(
    raw=st.recursive(
        st.none()
        | st.booleans()
        | st.integers(-9, 9)
        | st.floats()
        | st.sampled_from(["", "left"]),
        lambda inner: (
            st.lists(inner, max_size=3)
            | st.dictionaries(
                st.sampled_from([*sorted(FIELDS), "name", "angles"]), inner, max_size=4
            )
        ),
        max_leaves=12,
    )
)
@settings(max_examples=200, deadline=None, derandomize=True)
def test_any_machine_is_a_machine_or_findings(raw):
    made, findings = read(document(raw))
    assert (made is None) == any(f.severity == "error" for f in findings)


def test_the_schema_is_sound_and_committed():
    jsonschema.Draft202012Validator.check_schema(machine_schema())
    committed = resource("schemas", "machine.schema.json").read_text(encoding="utf-8")
    assert committed == json_text(machine_schema())


def test_every_field_has_its_meaning_and_every_meaning_its_field():
    used = set()
    for name, definition in machine_schema()["$defs"].items():
        for field in definition["properties"]:
            long = f"{name}.{field}"
            used.add(long if long in FIELDS else field)
    assert used == set(FIELDS)


SCHEMA_AGREES = [
    *(
        k
        for k in WRONG
        if k
        not in {
            "neither angles nor flats",  # what a schema can't say of a field
            "a range turned round",
            "an oblong tool too short",
            "an oblong drill",
            "two tools of one number",
            "two stations of one name",
            "a force without its factor",
            "a drill that presses",
            "a mirror image",
            "a slug without a length",
            "a saw that can't cut square",
        }
    )
]


@pytest.mark.parametrize("name", SCHEMA_AGREES)
def test_the_schema_refuses_what_the_loader_refuses(name):
    assert list(SCHEMA.iter_errors(json.loads(document(WRONG[name][0]))))


def test_the_example_of_the_reference_is_a_machine():
    page = resource("schemas", "README.md").read_text(encoding="utf-8")
    section = page[page.index("## Machine profiles") :].partition("\n## ")[0]
    (block,) = re.findall(r"(?:^    .*\n)+", section, re.MULTILINE)
    made, findings = read(block)
    assert findings == ()
    assert [station.name for station in made.stations] == ["P1", "D1"]
    assert not list(SCHEMA.iter_errors(json.loads(block)))


def test_samples_are_there():
    assert [path.name for path in SAMPLES] == [
        "drill-and-saw-line.machine.json",
        "hand-bench.machine.json",
        "punch-and-drill-line.machine.json",
    ]


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_read_clean_and_fit_the_schema(path):
    made, findings = read(path.read_bytes())
    assert findings == ()
    assert isinstance(made, Machine)
    assert not list(SCHEMA.iter_errors(json.loads(path.read_text(encoding="utf-8"))))
    assert made.remarks[0] == "Invented for the samples; no real machine."
