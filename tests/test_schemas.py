"""The schemas: fresh, sound, and of one mind with the emitter and the reader."""

import importlib.util
import json
import re
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from strategies import parts
from test_part_json import CLIP, EVERYTHING, read, written
from test_part_json_faults import FIELDS, HEADS, document, part

from translator.emitters._field_words import COMPUTED, DOCUMENT
from translator.emitters._field_words import FIELDS as WORDS
from translator.emitters._schema import part_schema
from translator.findings import Finding, Related, Severity, Verdict
from translator.reports import ReportOptions
from translator.reports._schema import findings_schema
from translator.reports.findings_json import REPORT
from translator.resources import resource
from translator.source import Span

ROOT = Path(__file__).resolve().parent.parent
NAMES = ("part.schema.json", "findings.schema.json")
PLACE = Span("a.bmk", 1, 2, 3, 4)


def fresh():
    spec = importlib.util.spec_from_file_location("fresh", ROOT / ".ci" / "fresh.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def committed(name):
    return json.loads(resource("schemas", name).read_text(encoding="utf-8"))


def checker(schema):
    return jsonschema.Draft202012Validator(schema)


PART = checker(part_schema())
FINDINGS = checker(findings_schema())


def test_generated_files_are_fresh():
    script = fresh()
    assert len(script.GENERATED) >= 3
    assert {name for name, _ in script.GENERATED} >= {f"schemas/{name}" for name in NAMES}
    assert script.stale() == {}


def test_the_script_names_what_is_stale(tmp_path, monkeypatch, capsys):
    script = fresh()
    monkeypatch.setattr(script, "ROOT", tmp_path)
    monkeypatch.setattr(script, "GENERATED", (("x.json", lambda _: "new\n"),))
    assert script.main(["--check"]) == 1
    assert not (tmp_path / "x.json").exists()
    assert script.main([]) == 0
    assert (tmp_path / "x.json").read_bytes() == b"new\n"
    assert script.main(["--check"]) == 0
    assert capsys.readouterr().out == "x.json is stale\nx.json written\n"


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_one_after_its_own_standard(name):
    schema = committed(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["$id"] == f"urn:backmark:{name.removesuffix('.schema.json')}:1.0"


def _properties(node):
    if isinstance(node, dict):
        if isinstance(node.get("properties"), dict) and node.get("type") == "object":
            yield from node["properties"].items()
        for member in node.values():
            yield from _properties(member)
    elif isinstance(node, list):
        for member in node:
            yield from _properties(member)


@pytest.mark.parametrize("name", NAMES)
def test_every_field_says_what_it_means(name):
    fields = list(_properties(committed(name)))
    assert len(fields) > 25
    silent = {field for field, schema in fields if not schema.get("description")}
    assert silent <= {"a", "b", "face"}  # legs of the computed block: described where they lead


def test_every_description_is_used():
    definitions = part_schema()["$defs"]
    fields = {f"{n}.{f}" for n, d in definitions.items() for f in d["properties"]}
    names = {name.partition(".")[2] for name in fields}
    assert {word for word in WORDS if word not in fields | names} == set()
    assert set(COMPUTED) | set(DOCUMENT) <= {field for field, _ in _properties(part_schema())}


@pytest.mark.parametrize("name", NAMES)
def test_no_word_of_another_language_is_left(name):
    text = resource("schemas", name).read_text(encoding="utf-8")
    for word in ("pydantic", "``", "None", "discriminator", "tuple", "_AnglePart", "prefixItems"):
        assert word not in text
    definitions = committed(name)["$defs"]
    for reference in set(re.findall(r'"#/\$defs/(\w+)"', text)):
        assert reference in definitions


@pytest.mark.parametrize("part", [CLIP, EVERYTHING], ids=["plain", "every field"])
def test_what_is_written_validates(part):
    PART.validate(json.loads(written(part)))


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow], derandomize=True
)
@given(parts())
def test_any_part_that_is_written_validates(part):
    PART.validate(json.loads(written(part)))


BEYOND_A_SCHEMA = {
    "length under the grid",
    "thick section",
    "bolt in a rod hole",
    "short slot",
    "cope radius",
}
"""What no schema can hold against each other, or hold to the model's grid."""


@pytest.mark.parametrize("name", [name for name in FIELDS if name not in BEYOND_A_SCHEMA])
def test_what_the_reader_refuses_the_schema_refuses(name):
    body, _ = FIELDS[name]
    assert not PART.is_valid(json.loads(document(body)))


@pytest.mark.parametrize("name", sorted(BEYOND_A_SCHEMA))
def test_what_only_the_reader_can_refuse(name):
    """So that the list above stays as short as it can be."""
    body, _ = FIELDS[name]
    assert PART.is_valid(json.loads(document(body)))
    assert read(document(body).encode()).parts == ()


@pytest.mark.parametrize("name", HEADS)
def test_what_stands_around_a_part_is_held_to_the_schema(name):
    assert not PART.is_valid(json.loads(HEADS[name][0]))


ACCEPTED = {
    "little": part(),
    "nothing said, as null": {**part(), "grade": None, "stated": None, "title": None},
    "whole pieces with a point": part(quantity=3.0),
    "one end": part(ends={"start": {"leg_b_deg": 10}}),
    "no ends": part(ends={}),
    "features without ids": part(
        legs={"b": {"features": [{"kind": "centre_mark", "x_mm": 1, "y_mm": 2}]}}
    ),
    "optional figures as null": part(
        legs={
            "a": {
                "features": [
                    {"kind": "hole", "x_mm": 20, "y_mm": 50, "diameter_mm": 9, "process": None}
                ]
            }
        }
    ),
}


@pytest.mark.parametrize("body", ACCEPTED.values(), ids=ACCEPTED.keys())
def test_what_the_reader_takes_the_schema_takes(body):
    text = document(body)
    assert read(text.encode()).findings == ()
    PART.validate(json.loads(text))


def test_an_end_of_a_flat_does_not_fit_an_angle():
    body = part(ends={"far": {"face_deg": 5}})
    assert not PART.is_valid(json.loads(document(body)))
    assert read(document(body).encode()).findings[0].severity == "error"


def finding(**changes):
    fields = {"rule": "hole-in-fillet", "severity": Severity.ERROR, "message": "m", "span": PLACE}
    return Finding(**{**fields, **changes})


VERDICTS = {
    "nothing": Verdict(),
    "clean": Verdict(files=("a.bmk",), parts=3, rules_run=("hole-in-fillet",)),
    "everything": Verdict(
        findings=(
            finding(),
            finding(
                severity=Severity.NOTE,
                mark="C12",
                element="legs.a.a1",
                value=3.5,
                limit=4.0,
                related=(Related(span=PLACE, message="this"),),
                waived="RFI 17",
            ),
            finding(value=float("inf"), limit=1.0),
            finding(message="\ud800 \x1b"),
        ),
        files=("a.bmk", "b.nc1"),
        parts=1,
        rules_run=("a", "b"),
        rules_not_applicable=(("c", "no machine"),),
        not_ours=(("b.nc1", "profile type I"),),
    ),
}


@pytest.mark.parametrize("verdict", VERDICTS.values(), ids=VERDICTS.keys())
def test_every_findings_report_validates(verdict):
    FINDINGS.validate(json.loads(REPORT.render(verdict, ReportOptions())))


def test_a_findings_report_with_a_field_too_many_does_not():
    report = json.loads(REPORT.render(VERDICTS["everything"], ReportOptions()))
    report["findings"][0]["extra"] = 1
    assert not FINDINGS.is_valid(report)


README = (ROOT / "schemas" / "README.md").read_text(encoding="utf-8")


def block(language):
    (found,) = re.findall(rf"^```{language}\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    return found


def test_the_example_of_the_reference_is_what_the_tool_writes():
    text = block("json")
    reading = read(text.encode())
    assert reading.findings == ()
    assert written(reading.parts[0].part).decode() == text
    PART.validate(json.loads(text))


def test_the_postprocessor_of_the_reference_prints_what_it_says(tmp_path):
    (tmp_path / "B9.part.json").write_text(block("json"), encoding="utf-8")
    (tmp_path / "post.py").write_text(block("python"), encoding="utf-8")
    run = subprocess.run(
        [sys.executable, "-I", "-W", "error", "post.py", "B9.part.json"],
        cwd=tmp_path,
        capture_output=True,
        check=True,
        text=True,
    )
    assert run.stdout == block("text")
    assert run.stdout.count("hole") == 2
    assert run.stdout.count("slot") == 1


def test_the_reference_names_every_field():
    fields = {field for field, _ in _properties(part_schema())}
    missing = {field for field in fields if not re.search(rf"\b{field}\b", README)}
    assert missing == set()


@pytest.mark.parametrize("first", ["'left', 'right'", "'right', 'left'"])
def test_schemas_do_not_follow_what_was_imported_first(first):
    """To ``typing`` a union of the same words in another order is the one it has seen already."""
    code = (
        f"from typing import Literal\nseen = Literal[{first}] | None\n"
        "from translator.bars.plan_document import plan_schema\n"
        "from translator.emitters._schema import part_schema\n"
        "print(plan_schema()['$defs']['PlannedBar']['properties']['long_leg']['enum'])\n"
        "print(part_schema()['$defs']['Hole']['properties']['thread']['enum'])\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "['left', 'right', None]\n['right', 'left', None]\n"
