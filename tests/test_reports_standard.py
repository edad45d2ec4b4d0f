"""The standard reports: SARIF against the schema of its standard, JUnit XML, GitHub annotations."""

import json
import re
import tomllib
from pathlib import Path
from urllib.parse import unquote_to_bytes, urlsplit
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.commands import main
from translator.findings import CAUTION, Finding, Related, Severity, Verdict
from translator.readers import readers
from translator.reports import ReportOptions, RuleInfo, github, junit, sarif
from translator.reports._uri import uri_of
from translator.source import Span, printable, whole_file

ROOT = Path(__file__).resolve().parent.parent
SCHEMA = json.loads(
    (ROOT / "tests" / "third-party" / "sarif" / "sarif-schema-2.1.0.json").read_bytes()
)
SARIF = jsonschema.Draft7Validator(SCHEMA)
"""OASIS Standard SARIF 2.1.0; where the file comes from stands beside it."""

RULE = RuleInfo(
    name="hole-in-fillet",
    title="a hole runs into the root fillet",
    severity=Severity.WARNING,
    reference="common practice, no source",
    text="A hole {18} runs into the fillet.\n\nWhy: see [there](1).",
)
HOSTILE = "\x1b[2Jx\x07\r\n\u202egnp\u200b\x9b\ud800\u2028<&>\"'%::,{0}[a](1)]]>--\ufffe\x00"


def finding(**changes):
    fields = {
        "rule": "hole-in-fillet",
        "severity": Severity.ERROR,
        "message": "17 mm is less than 21 mm",
        "span": Span("d/C 12.bmk", 3, 8, 3, 13),
        "mark": "C12",
        "element": "legs.b.b1",
    }
    return Finding(**{**fields, **changes})


def verdict(*findings, **changes):
    fields = {"files": ("d/C 12.bmk",), "parts": 1, "pieces": (("d/C 12.bmk", "C12"),)}
    return Verdict(**{"findings": findings, **fields, **changes})


EVERYTHING = verdict(
    finding(value=17.0, limit=21.0),
    finding(related=(Related(span=Span("e.bmk", 1, 2, 3, 4), message="the fillet"),)),
    finding(severity=Severity.NOTE, waived="RFI 17", waived_at=Span("waivers.toml", 4, 1, 4, 9)),
    finding(rule="syntax", severity=Severity.WARNING, span=whole_file("d/C 12.bmk"), mark=""),
    finding(rule=HOSTILE, message=HOSTILE, span=Span(HOSTILE, 1, 1, 1, 3), mark=HOSTILE),
    finding(waived=HOSTILE, value=float("inf"), limit=float("nan")),
    finding(span=Span("-", 0, 0, 0, 0)),
    finding(span=Span("-", 9, 9, 2, 2)),
    rules_run=("hole-in-fillet",),
    rules_not_applicable=(("punch-overloaded", "no machine is named"),),
    not_ours=(("z.nc1", "profile type I"), (HOSTILE, HOSTILE)),
    practice=("us",),
    changed=(("hole-in-fillet", "weighed as error"),),
)
VERDICTS = {"nothing": Verdict(), "clean": verdict(), "everything": EVERYTHING}

TEXTS = st.text(st.characters(exclude_categories=()), max_size=12)
NUMBERS = st.none() | st.floats()
SPANS = st.builds(Span, TEXTS | st.just("C.bmk"), *[st.integers(-1, 6)] * 4)
FINDINGS = st.builds(
    Finding,
    rule=st.sampled_from(["hole-in-fillet", "syntax"]) | TEXTS,
    severity=st.sampled_from(Severity),
    message=TEXTS,
    span=SPANS,
    mark=TEXTS,
    element=TEXTS,
    value=NUMBERS,
    limit=NUMBERS,
    related=st.lists(st.builds(Related, span=SPANS, message=TEXTS), max_size=2).map(tuple),
    waived=st.none() | TEXTS,
    waived_at=st.none() | SPANS,
)
ANY = settings(max_examples=100, deadline=None, derandomize=True)


def run_of(a_verdict, source=None, rules=(RULE,)):
    options = ReportOptions(source=lambda _: source, rules=rules)
    report = json.loads(sarif.render(a_verdict, options).encode())
    SARIF.validate(report)
    (run,) = report["runs"]
    return run


def results(*findings, source=None):
    return run_of(verdict(*findings), source)["results"]


def test_the_schema_is_the_standards_own_and_can_refuse():
    assert SCHEMA["title"] == ("Static Analysis Results Format (SARIF) Version 2.1.0 JSON Schema")
    jsonschema.Draft7Validator.check_schema(SCHEMA)
    report = json.loads(sarif.render(EVERYTHING, ReportOptions()))
    assert SARIF.is_valid(report)
    report["runs"][0]["results"][0]["level"] = "fatal"
    assert not SARIF.is_valid(report)


@pytest.mark.parametrize("a_verdict", VERDICTS.values(), ids=VERDICTS.keys())
@pytest.mark.parametrize("source", [None, b"", b"\xff\n" * 9, "\U0001d11e\r\n".encode() * 5])
def test_every_report_is_good_sarif(a_verdict, source):
    run = run_of(a_verdict, source)
    assert len(run["results"]) == len(a_verdict.findings)
    rules = run["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == sorted({rule["id"] for rule in rules})
    artifacts = run["artifacts"]
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]
        place = result["locations"][0]["physicalLocation"]["artifactLocation"]
        assert artifacts[place["index"]]["location"]["uri"] == place["uri"]


@ANY
@given(st.lists(FINDINGS, max_size=4), st.none() | st.binary(max_size=20))
def test_any_verdict_is_good_sarif(findings, source):
    run_of(verdict(*findings), source)


def test_a_result_to_the_letter():
    related = Related(span=Span("e.bmk", 1, 2, 3, 4), message="the fillet")
    (result,) = results(finding(value=17.0, limit=21.0, related=(related,)))
    fingerprint = result.pop("partialFingerprints")
    assert list(fingerprint) == ["backmarkFinding/v1"]
    assert re.fullmatch("[0-9a-f]{32}", *fingerprint.values())
    assert result == {
        "ruleId": "hole-in-fillet",
        "ruleIndex": 0,
        "level": "error",
        "message": {"text": "17 mm is less than 21 mm"},
        "locations": [
            {
                "physicalLocation": {
                    "artifactLocation": {"uri": "d/C%2012.bmk", "index": 0},
                    "region": {"startLine": 3, "startColumn": 8, "endLine": 3, "endColumn": 13},
                },
                "logicalLocations": [{"fullyQualifiedName": "C12.legs.b.b1", "kind": "part"}],
            }
        ],
        "relatedLocations": [
            {
                "id": 0,
                "physicalLocation": {
                    "artifactLocation": {"uri": "e.bmk", "index": 1},
                    "region": {"startLine": 1, "startColumn": 2, "endLine": 3, "endColumn": 4},
                },
                "message": {"text": "the fillet"},
            }
        ],
        "properties": {
            "mark": "C12",
            "element": "legs.b.b1",
            "value": 17.0,
            "limit": 21.0,
            "unit": "mm",
        },
    }


def test_what_a_run_says_beside_its_results():
    run = run_of(EVERYTHING, b"x")
    assert run["columnKind"] == "utf16CodeUnits"
    assert run["newlineSequences"] == ["\r\n", "\n", "\r"]
    assert run["tool"]["driver"]["fullDescription"] == {"text": CAUTION}
    assert run["properties"]["caution"] == CAUTION
    assert run["properties"]["practice"] == ["us"]
    assert run["properties"]["changed"] == [{"rule": "hole-in-fillet", "how": "weighed as error"}]
    (invocation,) = run["invocations"]
    assert invocation["executionSuccessful"] is True
    said = [note["message"]["text"] for note in invocation["toolExecutionNotifications"]]
    assert said[0] == "punch-overloaded was not applied: no machine is named"
    assert "not for this tool: profile type I" in said
    assert run["artifacts"][0] == {"location": {"uri": "d/C%2012.bmk"}, "encoding": "UTF-8"}


def test_a_rule_and_a_fault_that_no_rule_finds():
    a_verdict = verdict(
        finding(rule="nc-header-repaired", severity=Severity.NOTE),
        finding(rule="nc-header-repaired", severity=Severity.WARNING),
        rules_run=("hole-in-fillet",),
    )
    assert run_of(a_verdict)["tool"]["driver"]["rules"] == [
        {
            "id": "hole-in-fillet",
            "shortDescription": {"text": "a hole runs into the root fillet"},
            "fullDescription": {"text": "A hole {{18}} runs into the fillet."},
            "help": {
                "text": "A hole {{18}} runs into the fillet.\n\nWhy: see \\[there](1).",
                "markdown": "A hole {{18}} runs into the fillet.\n\nWhy: see \\[there](1).",
            },
            "defaultConfiguration": {"level": "warning"},
            "properties": {"reference": "common practice, no source"},
        },
        {
            "id": "nc-header-repaired",
            "shortDescription": {"text": "nc header repaired"},
            "defaultConfiguration": {"level": "warning"},
        },
    ]


WAIVED = {
    "in the part's own file": (Span("d/C 12.bmk", 9, 3, 9, 20), "inSource"),
    "beside it": (Span("d/waivers.toml", 1, 1, 1, 12), "external"),
    "not known where": (None, "inSource"),
}


@pytest.mark.parametrize(("at", "kind"), WAIVED.values(), ids=WAIVED.keys())
def test_a_waived_finding_is_a_suppressed_result(at, kind):
    (result,) = results(finding(waived="RFI 17", waived_at=at))
    (suppression,) = result["suppressions"]
    place = suppression.pop("location", None)
    assert suppression == {"kind": kind, "status": "accepted", "justification": "RFI 17"}
    assert (place is None) == (at is None)
    if at is not None:
        region = place["physicalLocation"]["region"]
        assert (region["startLine"], region["startColumn"]) == at[1:3]
    assert "suppressions" not in results(finding())[0]


def test_columns_are_utf_16_code_units():
    """U+1D11E is two units, U+65E5 and a combining accent are one each (the Unicode Standard)."""
    source = "\ufeffabc\n\U0001d11e日e\u0301 \U0001d11e HERE\n".encode()
    line = source.decode("utf-8-sig").split("\n")[1]
    column = line.index("HERE") + 1
    (result,) = results(finding(span=Span("d/C 12.bmk", 2, column, 2, column + 4)), source=source)
    region = result["locations"][0]["physicalLocation"]["region"]
    units = line.encode("utf-16-le")
    start, end = region["startColumn"] - 1, region["endColumn"] - 1
    assert units[2 * start : 2 * end].decode("utf-16-le") == "HERE"
    assert start == column + 1  # counted from 0, two more units than characters


def test_a_whole_file_has_no_region_and_what_ends_before_it_begins_no_end():
    places = [
        result["locations"][0]["physicalLocation"]
        for result in results(
            finding(span=whole_file("d/C 12.bmk")), finding(span=Span("x", 5, 4, 5, 2))
        )
    ]
    assert [place.get("region") for place in places] == [None, {"startLine": 5, "startColumn": 4}]


def test_a_fingerprint_outlives_lines_and_figures_but_tells_findings_apart():
    def prints(*findings):
        return [r["partialFingerprints"]["backmarkFinding/v1"] for r in results(*findings)]

    (one,) = prints(finding())
    (moved,) = prints(finding(span=Span("d/C 12.bmk", 30, 1, 30, 2), message="18 mm", value=18.0))
    assert one == moved
    others = [
        finding(rule="other"),
        finding(mark="C13"),
        finding(element="legs.b.b2"),
        finding(span=Span("e.bmk", 3, 8, 3, 13)),
    ]
    twice = prints(finding(), finding(message="again"))
    assert one in twice
    assert len({one, *twice, *[p for other in others for p in prints(other)]}) == 6


MESSAGES = {
    "plain": ("17 mm < 21 mm", "17 mm < 21 mm"),
    "braces": ("a `{` is missing", "a `{{` is missing"),
    "what would be a link": ("see [1](2) and [3]", "see \\[1](2) and [3]"),
    "control characters": ("\x1b[2J\u202e", "\\x1b[2J\\u202e"),
}


@pytest.mark.parametrize(("said", "text"), MESSAGES.values(), ids=MESSAGES.keys())
def test_a_message_says_what_was_said(said, text):
    assert results(finding(message=said))[0]["message"] == {"text": text}


URIS = {
    "plain": ("a/b.nc1", "a/b.nc1"),
    "blank": ("a b.bmk", "a%20b.bmk"),
    "what a URI uses itself": ("50%/a#b?c.bmk", "50%25/a%23b%3Fc.bmk"),
    "what looks like a scheme": ("C:x.bmk", "C%3Ax.bmk"),
    "letters of others": ("Träger/½.bmk", "Tr%C3%A4ger/%C2%BD.bmk"),
    "above": ("../x.bmk", "../x.bmk"),
    "brackets": ("[a].bmk", "%5Ba%5D.bmk"),
    "backslash": ("a\\b.bmk", "a%5Cb.bmk"),
    "from the root": ("/srv/a b.bmk", "file:///srv/a%20b.bmk"),
    "from a drive": ("C:/a/b.bmk", "file:///C:/a/b.bmk"),
    "from a server": ("//srv/a.bmk", "file://srv/a.bmk"),
    "bytes that are no text": ("a\udcff.bmk", "a%FF.bmk"),
    "standard input": ("-", "-"),
}


@pytest.mark.parametrize(("path", "uri"), URIS.values(), ids=URIS.keys())
def test_uri_of_a_path(path, uri):
    assert uri_of(path) == uri


@ANY
@given(TEXTS)
def test_uri_of_any_path(path):
    """Only characters that RFC 3986 lets a path hold, and nothing lost."""
    uri = uri_of(path)
    assert re.fullmatch(r"(file:)?([A-Za-z0-9/._~!$&'()*+,;=:@-]|%[0-9A-F]{2})*", uri)
    assert urlsplit(uri).scheme in ("", "file")
    if urlsplit(uri).scheme == "":
        assert unquote_to_bytes(uri) in (
            path.encode("utf-8", handler)
            for handler in ("surrogateescape", "surrogatepass")
            if not (
                handler == "surrogateescape" and re.search("[\ud800-\udc7f\udd00-\udfff]", path)
            )
        )


def parsed(a_verdict):
    text = junit.render(a_verdict, ReportOptions())
    assert text.startswith('<?xml version="1.0" encoding="UTF-8"?>\n')
    return ET.fromstring(text.encode())  # noqa: S314 - our own text


def cases(a_verdict):
    return {
        (case.get("classname"), case.get("name")): [child.tag for child in case]
        for case in parsed(a_verdict).iter("testcase")
    }


def _counts_are_right(root):
    for element in (root, *root.iter("testsuite")):
        below = list(element.iter("testcase"))
        assert element.get("tests") == str(len(below))
        assert element.get("errors") == "0"
        for word, tag in (("failures", "failure"), ("skipped", "skipped")):
            with_it = [case for case in below if case.find(tag) is not None]
            assert element.get(word) == str(len(with_it))


@pytest.mark.parametrize("a_verdict", VERDICTS.values(), ids=VERDICTS.keys())
def test_every_junit_report_can_be_parsed_and_counts_right(a_verdict):
    root = parsed(a_verdict)
    assert root.tag == "testsuites"
    _counts_are_right(root)
    assert not [name for e in root.iter() for name in e.attrib if name in ("time", "timestamp")]


@ANY
@given(st.lists(FINDINGS, max_size=4), st.lists(st.tuples(TEXTS, TEXTS), max_size=3))
def test_any_junit_report_can_be_parsed_and_tells_every_finding(findings, pieces):
    root = parsed(verdict(*findings, pieces=tuple(pieces)))
    _counts_are_right(root)
    told = "\n".join(
        element.text or "" for element in root.iter() if element.tag in ("failure", "system-out")
    )
    for one in findings:
        assert f"{printable(one.message)} [{printable(one.rule)}]" in told


def test_a_case_for_each_part_and_for_a_file_that_needs_one():
    a_verdict = verdict(
        finding(mark="C12"),
        finding(mark="C13", severity=Severity.WARNING),
        finding(mark="C14", waived="RFI 17"),
        finding(mark="", span=Span("a.bmk", 1, 1, 1, 2)),
        finding(span=Span("backmark.toml", 2, 1, 2, 1), mark=""),
        finding(span=Span("waivers.toml", 2, 1, 2, 1), mark="C99", severity=Severity.NOTE),
        files=("a.bmk", "d/C 12.bmk", "e.bmk", "z.nc1"),
        pieces=(
            *(("d/C 12.bmk", mark) for mark in ("C12", "C13", "C14", "C15")),
            ("a.bmk", "A1"),
        ),
        not_ours=(("z.nc1", "profile type I"),),
    )
    assert cases(a_verdict) == {
        ("a.bmk", "(file)"): ["failure"],
        ("a.bmk", "A1"): [],
        ("backmark.toml", "(file)"): ["failure"],
        ("d/C 12.bmk", "C12"): ["failure"],
        ("d/C 12.bmk", "C13"): ["system-out"],
        ("d/C 12.bmk", "C14"): ["system-out"],
        ("d/C 12.bmk", "C15"): [],
        ("e.bmk", "(file)"): [],
        ("waivers.toml", "(file)"): ["system-out"],
        ("z.nc1", "(file)"): ["skipped"],
    }
    root = parsed(a_verdict)
    assert root.attrib == {
        "name": "Backmark",
        "tests": "10",
        "failures": "3",
        "errors": "0",
        "skipped": "1",
    }


def test_a_failure_to_the_letter():
    related = Related(span=Span("e.bmk", 1, 2, 3, 4), message="the fillet")
    a_verdict = verdict(
        finding(related=(related,)),
        finding(message="2 < 3 & more", span=Span("d/C 12.bmk", 4, 1, 4, 2)),
        finding(waived="RFI 17", span=Span("d/C 12.bmk", 5, 1, 5, 2)),
    )
    (case,) = parsed(a_verdict).iter("testcase")
    failure, output = case
    assert failure.attrib == {
        "type": "hole-in-fillet",
        "message": "17 mm is less than 21 mm (and 1 more)",
    }
    assert failure.text == (
        "d/C 12.bmk:3:8: error: 17 mm is less than 21 mm [hole-in-fillet]\n"
        "    see e.bmk:1:2: the fillet\n"
        "d/C 12.bmk:4:1: error: 2 < 3 & more [hole-in-fillet]"
    )
    assert output.text == (
        "d/C 12.bmk:5:1: waived error: 17 mm is less than 21 mm [hole-in-fillet]\n"
        "    waived: RFI 17"
    )


def test_junit_carries_the_caution():
    assert f"<!-- {CAUTION} -->" in junit.render(Verdict(), ReportOptions())
    assert "--" not in CAUTION


def commands(a_verdict):
    """Read workflow commands as their documentation describes them."""
    found = []
    for line in github.render(a_verdict, ReportOptions()).split("\n"):
        if line.startswith("::"):
            head, message = line.removeprefix("::").split("::", 1)
            level, words = head.split(" ", 1)
            fields = dict(word.split("=", 1) for word in words.split(","))
            for escape, character in (("%3A", ":"), ("%2C", ","), ("%25", "%")):
                fields = {k: v.replace(escape, character) for k, v in fields.items()}
            for escape, character in (("%0D", "\r"), ("%0A", "\n"), ("%25", "%")):
                message = message.replace(escape, character)
            found.append((level, fields, message))
    return found


def test_annotations_to_the_letter():
    a_verdict = verdict(
        finding(),
        finding(
            mark="50%, A:1",
            severity=Severity.WARNING,
            message="50% of a, b: c",
            span=Span("a,b:c.bmk", 4, 1, 6, 9),
        ),
        finding(mark="", severity=Severity.NOTE, span=whole_file("e.bmk")),
        finding(waived="RFI 17", span=Span("f.bmk", 5, 3, 5, 3)),
        not_ours=(("z.nc1", "profile type I"),),
    )
    assert github.render(a_verdict, ReportOptions()).splitlines() == [
        (
            "::warning file=a%2Cb%3Ac.bmk,line=4,endLine=6,title=50%25%2C A%3A1%3A hole-in-fillet"
            "::50%25 of a, b: c"
        ),
        (
            "::error file=d/C 12.bmk,line=3,col=8,endColumn=13,title=C12%3A hole-in-fillet"
            "::17 mm is less than 21 mm"
        ),
        "::notice file=e.bmk,title=hole-in-fillet::17 mm is less than 21 mm",
        (
            "::notice file=f.bmk,line=5,col=3,title=waived error%3A C12%3A hole-in-fillet"
            "::17 mm is less than 21 mm%0Awaived: RFI 17"
        ),
        "::notice file=z.nc1,title=not for this tool::profile type I",
        "errors: 1, warnings: 1, notes: 1, waived: 1, parts: 1",
        CAUTION,
    ]


def test_equal_findings_are_one_annotation():
    three = [
        finding(element=f"legs.b.b{n}", message=f"hole b{n}", span=Span("a.bmk", n, 1, n, 2))
        for n in (1, 2, 3)
    ]
    ((_, fields, message),) = commands(verdict(*three))
    assert (fields["line"], message) == ("1", "hole b1 (3 times: b1, b2, b3)")


@ANY
@given(FINDINGS.filter(lambda f: f.waived is None))
def test_any_annotation_is_read_as_it_was_meant(one):
    ((_, fields, message),) = commands(verdict(one))
    assert fields["file"] == printable(one.span.path)
    assert fields["title"].endswith(printable(one.rule))
    assert message == printable(one.message)


def test_nothing_hostile_starts_a_command():
    lines = github.render(EVERYTHING, ReportOptions()).split("\n")
    assert all(c.isprintable() for line in lines for c in line)
    assert sum(line.startswith("::") for line in lines) == len(lines) - 3


def test_an_empty_run_has_counts_and_no_caution():
    assert github.render(Verdict(), ReportOptions()) == (
        "errors: 0, warnings: 0, notes: 0, waived: 0, parts: 0\n"
    )


FAULTY = """\
units mm
part X5 {
  section L100x100x10
  length 220
  leg b { holes 22 gauge 28 at 110 }
}
"""


@pytest.mark.parametrize("form", ["sarif", "junit", "github"])
def test_check_says_it_in_every_format(form, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("X5.bmk").write_text(FAULTY, encoding="utf-8")
    texts = set()
    for _ in range(2):
        result = CliRunner().invoke(main, ["check", "X5.bmk", "--format", form])
        assert result.exit_code == 0
        texts.add(result.stdout)
    (text,) = texts
    assert "hole-in-fillet" in text
    if form == "sarif":
        (run,) = json.loads(text)["runs"]
        SARIF.validate(json.loads(text))
        rules = {rule["id"]: rule for rule in run["tool"]["driver"]["rules"]}
        assert "fillet" in rules["hole-in-fillet"]["help"]["markdown"]
        (region,) = {
            tuple(r["locations"][0]["physicalLocation"]["region"].values())
            for r in run["results"]
            if r["ruleId"] == "hole-in-fillet"
        }
        assert region[:2] == (5, 32)


HOOK = (ROOT / ".pre-commit-hooks.yaml").read_text(encoding="utf-8")
NAMES = {
    "C12.bmk": True,
    "d/C12.BMK": True,
    "B53.nc": True,
    "B53.NC1": True,
    "a.nc9": True,
    "a.nc12": False,
    "a.ncx": False,
    "C12.part.json": True,
    "C12.json": False,
    "backmark.toml": False,
    "a.bmk.txt": False,
    "abmk": False,
}


def _hook():
    """Read the file line by line: it is one list of plain keys, which is YAML too."""
    first, *rest = HOOK.splitlines()
    lines = [first.removeprefix("- "), *(line.removeprefix("  ") for line in rest)]
    pairs = dict(line.split(": ", 1) for line in lines)
    return {key: value.strip("'") for key, value in pairs.items()}


@pytest.mark.parametrize(("name", "is_ours"), NAMES.items())
def test_the_hook_takes_the_files_that_the_readers_take(name, is_ours):
    known = [re.fullmatch(reader.pattern, Path(name).name.lower()) for reader in readers()]
    assert any(known) == is_ours
    assert bool(re.search(_hook()["files"], name)) == is_ours


def test_the_hook_runs_what_is_installed():
    hook = _hook()
    assert hook["id"] == "backmark-check"
    assert hook["language"] == "python"
    assert hook["require_serial"] == "true"
    program, command = hook["entry"].split()
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert program in project["scripts"]
    assert CliRunner().invoke(main, [command, "--help"]).exit_code == 0
