"""The settings file: what parts are judged by, faults in it, and its schema."""

import json
import re
import tomllib
from fractions import Fraction
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner

from translator.batch.configuration import read_configuration
from translator.batch.practice import read_practice
from translator.batch.settings_schema import settings_schema
from translator.commands import main
from translator.findings import Severity
from translator.model import Flat, FlatEnds, FlatLegs, Hole, Leg, Part, Placed
from translator.rules import rules
from translator.rules._practice import Practice, ShopGauge
from translator.rules._run import run
from translator.source import Span

ROOT = Path(__file__).resolve().parent.parent
SCHEMA = jsonschema.Draft202012Validator(settings_schema())


def _faults(text):
    said = []

    def fault(rule, message, within, key):
        said.append((rule, message, within, key))

    return read_practice(tomllib.loads(text), fault), said


def _practice(text):
    practice, said = _faults(text)
    assert said == []
    return practice


def test_nothing_said_is_auto_with_the_newest_editions():
    assert _practice("") == Practice()
    assert (Practice().code, Practice().us_edition, Practice().eu_edition) == (
        "auto",
        "360-22",
        "2018",
    )


@pytest.mark.parametrize(
    ("text", "field", "value"),
    [
        ('practice = "eu"', "code", "eu"),
        ('edition = "360-05"', "us_edition", "360-05"),
        ('edition = ["360-16", "2008+A1"]', "eu_edition", "2008+A1"),
        ("execution_class = 3", "execution_class", 3),
        ('punching = "ufgs"', "punching", ("ufgs",)),
        ('punching = ["ufgs", "tool"]', "punching", ("ufgs", "tool")),
        ("punching = []", "punching", ()),
        ('[contact]\nmarks = ["B*"]', "contact", ("B*",)),
        ('[contact]\nexposure = "weathering"', "exposure", "weathering"),
        ("[gauges]\nusual = true", "usual_gauges", True),
        ('[gauges]\n"4in" = "2-1/2in"', "gauges", (ShopGauge(leg_mm=101.6, lines_mm=(63.5,)),)),
        (
            '[gauges]\n"120mm" = ["45mm", "95mm"]',
            "gauges",
            (ShopGauge(leg_mm=120.0, lines_mm=(45.0, 95.0)),),
        ),
        (
            '[stock]\n"A572 Gr. 50" = true\nS275JR = "20mm"\n"300W" = "1in"',
            "stock",
            {"A572-50": None, "S275JR": 20.0, "300W": 25.4},
        ),
        (
            '[severities]\nholes-overlap = "note"\ngrade-missing = "off"',
            "severities",
            {"holes-overlap": Severity.NOTE, "grade-missing": None},
        ),
    ],
)
def test_what_a_settings_file_says(text, field, value):
    assert getattr(_practice(text), field) == value
    SCHEMA.validate(tomllib.loads(text))


@pytest.mark.parametrize(
    ("text", "times", "symbol", "unit"),
    [
        ("1.5 d", Fraction(3, 2), "d", "mm"),
        ("2-2/3 d", Fraction(8, 3), "d", "mm"),
        ("1.2d0", Fraction(6, 5), "d0", "mm"),
        ("2 t", Fraction(2), "t", "mm"),
        ("32mm", Fraction(32), "", "mm"),
        ("1-1/4in", Fraction(127, 4), "", "inch"),
    ],
)
def test_a_limit_of_the_shop(text, times, symbol, unit):
    limit = _practice(f'[limits]\nedge-distance-short = "{text}"').limits["edge-distance-short"]
    assert (limit.times, limit.symbol, limit.unit, limit.text) == (times, symbol, unit, text)


BAD = [
    ('practice = "uk"', "practice is 'uk'; it takes auto, us, eu, none", "", "practice"),
    ("practice = 3", "practice is 3; it takes auto, us, eu, none", "", "practice"),
    (
        'edition = "360-93"',
        "edition is '360-93'; it takes 360-22, 360-16, 360-10, 360-05, 2018, 2008+A1",
        "",
        "edition",
    ),
    (
        "execution_class = true",
        "execution_class is True; it takes 1, 2, 3 or 4",
        "",
        "execution_class",
    ),
    (
        'punching = "aisc"',
        (
            "punching is 'aisc'; it takes some of aisc-before-2000, ufgs, en-1090-2, aashto,"
            " as-4100, csa-s16, tool"
        ),
        "",
        "punching",
    ),
    ('contact = "B7"', "contact is 'B7'; it is a table, [contact]", "", "contact"),
    (
        '[contact]\nmarks = "B7"',
        "in [contact], marks is 'B7'; it takes a list of piece marks",
        "contact",
        "marks",
    ),
    (
        '[contact]\nexposure = "wet"',
        "in [contact], exposure is 'wet'; it takes sheltered, exposed, weathering",
        "contact",
        "exposure",
    ),
    (
        "[gauges]\nusual = 1",
        "in [gauges], usual is 1; it takes true or false",
        "gauges",
        "usual",
    ),
    (
        '[gauges]\n4 = "2-1/2in"',
        "in [gauges], 4 is '2-1/2in'; '4' does not name its unit: write it like 90mm or 3-1/2in",
        "gauges",
        "4",
    ),
    (
        "[gauges]\n4in = 2.5",
        "in [gauges], 4in is 2.5; it takes a gauge or a list of them, like 2-1/2in",
        "gauges",
        "4in",
    ),
    (
        "[stock]\nA36 = 1",
        "in [stock], A36 is 1; it takes true or the thickest that is kept, like 20mm",
        "stock",
        "A36",
    ),
    (
        "[limits]\nedge-distance-short = 1.5",
        'in [limits], edge-distance-short is 1.5; it takes text in quotes, like "1.5 d" or "32mm"',
        "limits",
        "edge-distance-short",
    ),
    (
        '[limits]\nedge-distance-short = "5 %"',
        (
            "in [limits], edge-distance-short is '5 %'; '5 %' is no limit here: it takes a multiple"
            " of the bolt like 1.5 d, of the hole like 1.2 d0, of the thickness like 2 t, a length"
            " like 32mm or 1-1/4in"
        ),
        "limits",
        "edge-distance-short",
    ),
    *(
        (
            f'[limits]\nspacing-short = "{nothing}"',
            (
                f"in [limits], spacing-short is '{nothing}'; '{nothing}' is no limit: it must be"
                ' more than 0; to switch a rule off, write "off" for it under [severities]'
            ),
            "limits",
            "spacing-short",
        )
        for nothing in ("0 d", "0mm", "0/3 d")
    ),
    (
        '[limits]\nholes-overlap = "1 t"',
        "in [limits], the rule holes-overlap has no limit that can be set",
        "limits",
        "holes-overlap",
    ),
    (
        '[severities]\nholes-overlap = "fatal"',
        "in [severities], holes-overlap is 'fatal'; it takes error, warning, note, off",
        "severities",
        "holes-overlap",
    ),
]


@pytest.mark.parametrize(("text", "message", "within", "key"), BAD)
def test_a_value_that_is_not_taken(text, message, within, key):
    practice, said = _faults(text)
    assert said == [("setting-bad", message, within, key)]
    assert practice == Practice()
    # Lengths and multiples are plain text to the schema.
    in_words_only = "%" in text or "spacing-short" in text or "\n4 =" in text
    assert in_words_only or list(SCHEMA.iter_errors(tomllib.loads(text)))


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "[contact]\nmark = []",
            "in [contact], there is no setting 'mark'; there are marks, exposure",
        ),
        (
            '[limits]\nedge-distance = "1 d"',
            "in [limits], there is no rule 'edge-distance'; `backmark rules` lists them",
        ),
        (
            '[severities]\nedge-distance = "off"',
            "in [severities], there is no rule 'edge-distance'; `backmark rules` lists them",
        ),
    ],
)
def test_a_key_that_does_not_exist(text, message):
    practice, said = _faults(text)
    assert [(rule, words) for rule, words, *_ in said] == [("setting-unknown", message)]
    assert practice == Practice()
    assert list(SCHEMA.iter_errors(tomllib.loads(text)))


def test_a_fault_stands_in_its_line(tmp_path):
    path = tmp_path / "backmark.toml"
    path.write_text('practice = "us"\n\n[limits]\nspacing-short = "3 d"\nspacing = "3 d"\n')
    settings = read_configuration(path)
    assert [(f.rule, f.span.line) for f in settings.findings] == [("setting-unknown", 5)]
    assert list(settings.practice.limits) == ["spacing-short"]


def test_the_example_of_the_reference_is_read_and_fits_the_schema(tmp_path):
    text = (ROOT / "schemas" / "README.md").read_text(encoding="utf-8")
    blocks = re.findall(r"```toml\n(.*?)```", text, re.DOTALL)
    (example,) = (block for block in blocks if "fail_on" in block)
    path = tmp_path / "backmark.toml"
    path.write_text(example, encoding="utf-8")
    settings = read_configuration(path)
    assert settings.findings == ()
    assert settings.practice.code == "us"
    table = tomllib.loads(example)
    assert set(table) > {"practice", "contact", "gauges", "stock", "limits", "severities", "nc"}
    SCHEMA.validate(table)


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(settings_schema())
    assert list(SCHEMA.iter_errors({"colour": "red"}))


PLACE = Span("p", 1, 1, 1, 1)


def _checked(practice, *, x=25.0, bolt="M20"):
    hole = Hole(id="f1", x_mm=x, y_mm=50.0, diameter_mm=22.0, bolt=bolt)
    part = Part(
        mark="F1",
        grade="S275JR",
        length_mm=400.0,
        section=Flat(width_mm=100.0, thickness_mm=10.0),
        legs=FlatLegs(face=Leg(features=(hole,))),
        ends=FlatEnds(),
    )
    return run([Placed(part=part, places={"": PLACE})], rules(), practices=[practice])


def _said(checked):
    return [(f.rule, f.severity.value, f.message) for f in checked.findings[0]]


def test_a_limit_of_the_shop_replaces_the_codes():
    practice = _practice('practice = "eu"\n[limits]\nend-distance-short = "2 d"')
    assert _said(_checked(practice, x=39.99)) == [
        (
            "end-distance-short",
            "error",
            (
                "hole f1 is 39.99 mm from the end, less than 40 mm (bolt M20 as stated; the shop's"
                " limit, 2 d)"
            ),
        )
    ]
    assert _said(_checked(practice, x=40.0)) == []
    looser = _practice('practice = "eu"\n[limits]\nend-distance-short = "1in"')
    assert _said(_checked(looser, x=25.39)) == [
        (
            "end-distance-short",
            "error",
            (
                "hole f1 is 25.39 mm from the end, less than 25.4 mm (1 in.) (bolt M20 as stated;"
                " the shop's limit, 1in)"
            ),
        )
    ]
    assert looser.changes == (("end-distance-short", "held to 1in, not to the code's figure"),)


def test_a_severity_of_the_shop():
    practice = _practice('practice = "eu"\n[severities]\nend-distance-short = "note"')
    assert [severity for _, severity, _ in _said(_checked(practice))] == ["note"]
    assert practice.changes == (("end-distance-short", "weighed as note"),)


def test_a_rule_that_is_off_is_named():
    practice = _practice('practice = "eu"\n[severities]\nend-distance-short = "off"')
    checked = _checked(practice)
    assert _said(checked) == []
    assert ("end-distance-short", "switched off in the settings") in checked.not_applied
    assert "end-distance-short" not in checked.rules


def test_without_a_practice_no_code_is_held():
    checked = _checked(_practice('practice = "none"'))
    assert _said(checked) == []
    assert ("end-distance-short", 'the practice is "none"') in checked.not_applied


PART = """\
{"format": "backmark/part", "version": "1.0", "part": {"mark": "F1", "grade": "S275JR",
 "length_mm": 400, "section": {"kind": "flat", "width_mm": 100, "thickness_mm": 10},
 "legs": {"face": {"features": [
  {"id": "f1", "kind": "hole", "x_mm": 26.2, "y_mm": 50, "diameter_mm": 22, "bolt": "M20"}]}}}}
"""


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "F1.part.json").write_text(PART)
    return tmp_path


def _run(*arguments):
    return CliRunner().invoke(main, list(arguments))


def test_the_flag_wins(folder):
    """26.2 mm is enough for M20 in AISC 360 Table J3.4M (26 mm), not in EN (26.4 mm)."""
    (folder / "backmark.toml").write_text('practice = "eu"')
    assert _run("check", ".").exit_code == 1
    result = _run("check", ".", "--practice", "us", "--format", "json")
    assert result.exit_code == 0
    assert json.loads(result.stdout)["practice"] == ["us: AISC 360-22"]


def test_the_report_says_what_differs_from_the_code(folder):
    (folder / "backmark.toml").write_text('[limits]\nend-distance-short = "20mm"')
    result = _run("check", ".", "--format", "json")
    assert json.loads(result.stdout)["changed"] == [
        {"rule": "end-distance-short", "how": "held to 20mm, not to the code's figure"}
    ]


@pytest.mark.parametrize(
    ("pattern", "left"),
    [
        ("old", ["F1.part.json"]),
        ("old/", ["F1.part.json"]),
        ("old/*", ["F1.part.json"]),
        ("F2*", ["F1.part.json", "old/deep/F3.part.json"]),
        ("old/F2.part.json", ["F1.part.json", "old/deep/F3.part.json"]),
        ("deep", ["F1.part.json", "old/F2.part.json", "old/deep/F3.part.json"]),
    ],
)
def test_files_that_are_left_out_are_counted(folder, pattern, left):
    (folder / "old" / "deep").mkdir(parents=True)
    (folder / "old" / "F2.part.json").write_text(PART.replace("F1", "F2"))
    (folder / "old" / "deep" / "F3.part.json").write_text(PART.replace("F1", "F3"))
    (folder / "backmark.toml").write_text(f'excludes = ["{pattern}"]\npractice = "none"')
    report = json.loads(_run("check", ".", "--format", "json").stdout)
    assert report["files"] == left
    notes = [f["message"] for f in report["findings"] if f["rule"] == "files-excluded"]
    assert len(notes) == (len(left) < 3)


def test_a_file_named_outright_is_read_though_it_is_excluded(folder):
    (folder / "backmark.toml").write_text('excludes = ["F1*"]\npractice = "none"')
    assert _run("check", "F1.part.json", "--format", "json").exit_code == 0
    report = json.loads(_run("check", "F1.part.json", "--format", "json").stdout)
    assert report["files"] == ["F1.part.json"]
    nothing = _run("check", ".", "--format", "json")
    assert (nothing.exit_code, nothing.stdout) == (2, "")
    assert "F1.part.json is left out by `excludes` of the settings (" in (nothing.stderr)
    (folder / "F2.part.json").write_text(PART.replace("F1", "F2"))
    (note,) = json.loads(_run("check", ".", "--format", "json").stdout)["findings"]
    assert note["message"] == "F1.part.json is left out by `excludes` of the settings"
