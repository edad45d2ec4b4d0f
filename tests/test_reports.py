"""Reports: what a person and a program are told, to the letter."""

import itertools
import json
import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.findings import CAUTION, Finding, Related, Severity, Verdict
from translator.reports import ReportOptions, findings_json, reports, text
from translator.source import Span, lines_of, printable, whole_file

SOURCE = b"""\
units inch
part C12 {
\tholes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3
  long
}
"""


def finding(**changes):
    fields = {
        "rule": "end-distance-short",
        "severity": Severity.ERROR,
        "message": "31.75 mm is less than 33.3 mm",
        "span": Span("C.bmk", 3, 8, 3, 13),
        "mark": "C12",
        "element": "legs.a.a1",
    }
    return Finding(**{**fields, **changes})


def verdict(*findings, **changes):
    fields = {"files": ("C.bmk",), "parts": 1, "rules_run": ("x", "y")}
    return Verdict(**{"findings": findings, **fields, **changes})


def shown(a_verdict, source=SOURCE, **options):
    options = ReportOptions(source={"C.bmk": source}.get, **options)
    return text.render(a_verdict, options).splitlines()


def test_the_room_is_walked():
    assert {"json", "text", "sarif", "junit", "github"} <= {report.name for report in reports()}
    assert {findings_json.REPORT, text.REPORT} <= set(reports())


def test_a_finding_with_its_line_and_carets():
    assert shown(verdict(finding())) == [
        "C.bmk:3:8: error: 31.75 mm is less than 33.3 mm [end-distance-short]",
        "        holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3",
        "              ^^^^^",
        "1 error in 1 part of 1 file; 2 rules applied.",
        CAUTION,
    ]


def test_a_clean_sheet_says_what_was_looked_at():
    assert shown(verdict(parts=12, files=("a", "b", "c"))) == [
        "No findings in 12 parts of 3 files; 2 rules applied.",
        CAUTION,
    ]


def test_a_sheet_of_nothing_says_so_without_a_caution():
    assert shown(Verdict()) == ["No findings; no file was read."]


def test_rules_that_were_not_applied_and_files_of_others():
    lines = shown(
        verdict(
            rules_not_applicable=(("p", "no machine"), ("q", "no machine"), ("r", "no gauges")),
            not_ours=(("z.nc1", "profile type I"), ("a.nc1", "profile type U")),
            practice=("us: AISC 360-22",),
            changed=(("x", "held to 1.5 d, not to the code's figure"),),
        )
    )
    assert lines == [
        "a.nc1: not for this tool: profile type U",
        "z.nc1: not for this tool: profile type I",
        "No findings in 1 part of 1 file; 2 rules applied.",
        "Not applied (no machine): p, q.",
        "Not applied (no gauges): r.",
        "Practice us: AISC 360-22.",
        "Changed by the settings: x is held to 1.5 d, not to the code's figure.",
        CAUTION,
    ]


def test_a_waived_finding_is_shown_with_its_reason_and_counted_apart():
    lines = shown(verdict(finding(waived="RFI 17", span=whole_file("C.bmk"))))
    assert lines[:3] == [
        "C.bmk:1:1: waived error: 31.75 mm is less than 33.3 mm [end-distance-short]",
        "    waived: RFI 17",
        "1 waived in 1 part of 1 file; 2 rules applied.",
    ]


def test_a_second_place_is_named():
    related = Related(span=Span("D.bmk", 4, 5, 4, 6), message="the first one")
    lines = shown(verdict(finding(span=whole_file("C.bmk"), related=(related,))))
    assert lines[1] == "    see D.bmk:4:5: the first one"


def test_findings_are_told_in_the_order_of_their_places():
    spans = [Span("C.bmk", 4, 3, 4, 7), Span("B.bmk", 9, 1, 9, 2), Span("C.bmk", 2, 1, 2, 5)]
    findings = [finding(span=span, message=f"m{n}") for n, span in enumerate(spans)]
    orders = {tuple(shown(verdict(*order))) for order in itertools.permutations(findings)}
    (lines,) = orders
    places = [line.split(" ")[0] for line in lines if "m" in line and ": error" in line]
    assert places == ["B.bmk:9:1:", "C.bmk:2:1:", "C.bmk:4:3:"]


def test_counts_of_each_severity():
    findings = [
        finding(severity=severity, message=f"m{n}", span=whole_file("C.bmk"))
        for severity, number in ((Severity.ERROR, 2), (Severity.WARNING, 1), (Severity.NOTE, 3))
        for n in range(number)
    ]
    line = shown(verdict(*findings, finding(waived="r"), parts=2))[-2]
    assert line == "2 errors, 1 warning, 3 notes, 1 waived in 2 parts of 1 file; 2 rules applied."


def grouped(*findings):
    lines = shown(verdict(*findings), source=None)
    return [line.partition("error: ")[2] for line in lines if "error: " in line]


def test_equal_findings_are_one_line_with_a_count():
    findings = [
        finding(element=f"legs.a.a{n}", message=f"hole a{n}: 31 mm", span=Span("C.bmk", n, 1, n, 2))
        for n in range(1, 13)
    ]
    assert grouped(*findings[:3]) == ["hole a1: 31 mm [end-distance-short] (3 times: a1, a2, a3)"]
    assert grouped(*findings) == [
        (
            "hole a1: 31 mm [end-distance-short]"
            " (12 times: a1, a2, a3, a4, a5, a6, a7, a8 and 4 more)"
        )
    ]


def test_equal_findings_without_an_element_name_their_lines():
    spans = [Span("C.bmk", n, 1, n, 2) for n in (2, 5)]
    assert grouped(*[finding(element="", span=span) for span in spans]) == [
        "31.75 mm is less than 33.3 mm [end-distance-short] (2 times: line 2, line 5)"
    ]


DIFFERENT = {
    "rule": {"rule": "edge-distance-short"},
    "part": {"mark": "C13"},
    "file": {"span": Span("D.bmk", 3, 8, 3, 13)},
    "figure": {"message": "30 mm is less than 33.3 mm"},
    "waiver": {"waived": "RFI 17"},
}


@pytest.mark.parametrize("change", DIFFERENT.values(), ids=DIFFERENT.keys())
def test_what_differs_is_not_one_line(change):
    other = finding(element="legs.a.a2", **change)
    lines = shown(verdict(finding(), other), source=None)
    assert len([line for line in lines if "error: " in line]) == 2
    assert not [line for line in lines if "times" in line]


def test_an_id_is_taken_out_of_the_words_only_as_a_word():
    one = finding(element="legs.a.a1", message="a1 of a12")
    other = finding(element="legs.a.a2", message="a2 of a22")
    assert len(grouped(one, other)) == 2


EXCERPTS = {
    "tab before": (
        Span("C.bmk", 3, 2, 3, 7),
        ["        holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3", "        ^^^^^"],
    ),
    "over lines": (Span("C.bmk", 4, 3, 5, 2), ["      long", "      ^^^^"]),
    "no extent": (Span("C.bmk", 4, 4, 4, 4), ["      long", "       ^"]),
    "behind the end": (Span("C.bmk", 4, 99, 4, 120), ["      long", "          ^"]),
    "whole file": (whole_file("C.bmk"), []),
    "line that is not there": (Span("C.bmk", 70, 1, 70, 2), []),
    "backwards": (Span("C.bmk", 4, 4, 4, 2), ["      long", "       ^"]),
}


@pytest.mark.parametrize(("span", "expected"), EXCERPTS.values(), ids=EXCERPTS.keys())
def test_the_line_under_a_finding(span, expected):
    assert shown(verdict(finding(span=span)))[1:-2] == expected


def test_no_source_no_line():
    assert len(shown(verdict(finding()), source=None)) == 3


LONG = "<" + "x" * 299 + "HERE" + "y" * 299 + ">"


@pytest.mark.parametrize("column", [1, 150, 301, 590, 605])
@pytest.mark.parametrize("width", [10, 40, 100])
def test_a_long_line_is_cut_around_the_place(column, width):
    span = Span("C.bmk", 1, column, 1, column + 4)
    line, carets = shown(verdict(finding(span=span)), source=LONG.encode(), width=width)[1:3]
    assert max(len(line), len(carets)) <= max(width, 20)
    start = len(carets) - len(carets.lstrip())
    assert set(carets.strip()) == {"^"}
    expected = LONG[column - 1 : column + 3]
    assert line[start : start + len(carets.strip())] == expected[: len(carets.strip())]
    body = line.strip().strip(".")
    assert body in LONG
    assert line.startswith("    ...") != LONG.startswith(body)
    assert line.endswith("...") != LONG.endswith(body)


def test_wide_and_combining_characters_keep_the_carets_below():
    source = "日本 e\u0301 HERE".encode()
    line, carets = shown(verdict(finding(span=Span("C.bmk", 1, 7, 1, 11))), source=source)[1:3]
    assert line == "    日本 e\u0301 HERE"
    assert carets == " " * (4 + 2 + 2 + 1 + 1 + 1) + "^^^^"


def test_bytes_that_are_not_utf8_are_shown_all_the_same():
    lines = shown(verdict(finding(span=Span("C.bmk", 1, 1, 1, 3))), source=b"\xc4\x81\x9f\xff")
    assert len(lines) == 5


def test_colours_only_where_wanted():
    plain, coloured = shown(verdict(finding())), shown(verdict(finding()), colour=True)
    assert not any("\x1b" in line for line in plain)
    assert coloured[0].startswith("C.bmk:3:8: \x1b[1;31merror\x1b[0m: 31.75 mm")
    assert coloured[2] == f"\x1b[1;31m{plain[2]}\x1b[0m"


HOSTILE = "\x1b[2Jx\x07\r\n\u202egnp\u200b\x9b\ud800\u2028"


def test_nothing_hostile_reaches_the_terminal():
    span = Span(f"p{HOSTILE}", 1, 1, 1, 3)
    related = Related(span=span, message=HOSTILE)
    changes = {"message": HOSTILE, "rule": HOSTILE, "span": span, "element": f"legs.a.{HOSTILE}"}
    findings = [
        finding(**changes, related=(related,)),
        finding(**{**changes, "span": Span(span.path, 1, 2, 1, 3)}),
        finding(**changes, waived=HOSTILE),
    ]
    a_verdict = verdict(
        *findings,
        rules_not_applicable=((HOSTILE, HOSTILE),),
        not_ours=((HOSTILE, HOSTILE),),
    )
    source = HOSTILE.encode("utf-8", "surrogatepass")
    report = text.render(a_verdict, ReportOptions(source=lambda _: source))
    assert all(c == "\n" or c.isprintable() for c in report)
    assert "\\x1b[2J" in report
    assert "\\u202e" in report
    report.encode()


PRINTABLE = {
    "plain": ("Ü 日 ½ \\", "Ü 日 ½ \\"),
    "escape": ("\x1b[0m", "\\x1b[0m"),
    "line end": ("a\r\nb", "a\\x0d\\x0ab"),
    "tab": ("\t", "\\x09"),
    "hard blank": ("a\xa0b", "a\\xa0b"),
    "turned writing": ("\u202eabc\u202c", "\\u202eabc\\u202c"),
    "unseen": ("a\u200bb\ufeff", "a\\u200bb\\ufeff"),
    "half a pair": ("\udc80", "\\udc80"),
    "tag": ("\U000e0041", "\\U000e0041"),
}


@pytest.mark.parametrize(("value", "expected"), PRINTABLE.values(), ids=PRINTABLE.keys())
def test_printable(value, expected):
    assert printable(value) == expected


@given(st.text(st.characters()))
def test_printable_leaves_no_control_or_format_character(value):
    assert all(unicodedata.category(c) not in ("Cc", "Cf", "Cs") for c in printable(value))


def test_lines_end_where_findings_count_them():
    assert lines_of("a\nb\r\nc\rd\x0be\u2028f") == ["a", "b", "c", "d\x0be\u2028f"]


@settings(max_examples=100, deadline=None, derandomize=True)
@given(
    st.binary(max_size=80),
    st.tuples(*[st.integers(0, 5), st.integers(0, 100)] * 2),
    st.integers(0, 200),
)
def test_any_source_any_place(source, place, width):
    options = ReportOptions(source=lambda _: source, width=width)
    report = text.render(verdict(finding(span=Span("C.bmk", *place))), options)
    assert all(c == "\n" or c.isprintable() for c in report)
    assert len(report.splitlines()) in (3, 5)


def test_json_says_everything():
    related = Related(span=Span("D.bmk", 1, 2, 3, 4), message="see")
    a_verdict = verdict(
        finding(value=31.75, limit=33.3, related=(related,), waived="RFI 17"),
        rules_not_applicable=(("p", "no machine"),),
        not_ours=(("z.nc1", "profile type I"),),
        practice=("us: AISC 360-22",),
        changed=(("x", "weighed as note"),),
    )
    report = findings_json.render(a_verdict, ReportOptions())
    assert report.endswith("}\n")
    assert json.loads(report) == {
        "format": "backmark/findings",
        "version": "1.0",
        "caution": CAUTION,
        "summary": {"files": 1, "parts": 1, "errors": 0, "warnings": 0, "notes": 0, "waived": 1},
        "findings": [
            {
                "rule": "end-distance-short",
                "severity": "error",
                "message": "31.75 mm is less than 33.3 mm",
                "path": "C.bmk",
                "line": 3,
                "column": 8,
                "end_line": 3,
                "end_column": 13,
                "mark": "C12",
                "element": "legs.a.a1",
                "value": 31.75,
                "limit": 33.3,
                "unit": "mm",
                "related": [
                    {
                        "message": "see",
                        "path": "D.bmk",
                        "line": 1,
                        "column": 2,
                        "end_line": 3,
                        "end_column": 4,
                    }
                ],
                "waived": "RFI 17",
            }
        ],
        "files": ["C.bmk"],
        "not_ours": [{"path": "z.nc1", "why": "profile type I"}],
        "rules_run": ["x", "y"],
        "rules_not_applicable": [{"rule": "p", "why": "no machine"}],
        "practice": ["us: AISC 360-22"],
        "changed": [{"rule": "x", "how": "weighed as note"}],
    }


def test_json_has_findings_in_order_ungrouped_and_no_number_without_end():
    findings = [finding(span=Span("C.bmk", n, 1, n, 2), value=float("nan")) for n in (9, 3)]
    said = json.loads(findings_json.render(verdict(*findings), ReportOptions()))["findings"]
    assert [f["line"] for f in said] == [3, 9]
    assert not {"value", "unit", "waived", "related"} & set(said[0])


def test_json_can_always_be_written_as_utf8():
    report = findings_json.render(verdict(finding(message=HOSTILE)), ReportOptions())
    assert json.loads(report.encode())["findings"][0]["message"] == HOSTILE


def test_of_notes_of_one_rule_only_the_first_are_told_in_full():
    def of_many(rule, severity):
        return [
            finding(rule=rule, severity=severity, span=whole_file(f"{n:03}.bmk"))
            for n in range(100)
        ]

    notes = of_many("r", Severity.NOTE)
    lines = shown(verdict(*notes, *of_many("w", Severity.WARNING)))
    assert sum(": note: " in line for line in lines) == 12
    assert sum(": warning: " in line for line in lines) == 100
    assert lines[112] == "More notes of the same kinds: 88 of r (--format json lists all)."
    assert lines[113].startswith("100 warnings, 100 notes in ")
    assert not any("More notes" in line for line in shown(verdict(*notes[:12])))
