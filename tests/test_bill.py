"""Parts held against a bill: what is read, what is compared, and how exactly."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import example, given, settings
from hypothesis import strategies as st

from translator.batch.bill import check_bill, load_bill, read_bill
from translator.batch.bill_settings import BillSettings
from translator.batch.configuration import Configuration, understood
from translator.commands import main
from translator.conventions import Conventions
from translator.errors import WorkError
from translator.findings import Severity
from translator.pipeline import Input, examine
from translator.readers import readers
from translator.rules._practice import Practice, read_limit
from translator.source import Source

ROOT = Path(__file__).parent.parent
BILLS = ROOT / "samples" / "bill"
WEIGHTS = (Severity.ERROR, Severity.WARNING)

NONE = "no part that could be read has this mark"
PART = "units inch\npart C12 { section L4x4x3/8  length 11-1/2  quantity 24 }\n"


def bill_of(text, **said):
    reading = read_bill(Source(path="bill.csv", data=text.encode()), BillSettings(**said))
    return reading.bill, reading.findings


def looked_at(bill, *parts, practice=None, **said):
    """Return the findings on some parts beside a bill, notes left out."""
    (reader,) = (r for r in readers() if r.name == "bmk")
    inputs = [
        Input(
            source=Source(path=f"{number}.bmk", data=text.encode()),
            reader=reader,
            conventions=Conventions(),
            practice=practice or Practice(code="none"),
        )
        for number, text in enumerate(parts)
    ]
    read, findings = bill_of(bill, **said)
    return examine(inputs, said=findings, bill=read).verdict.findings


def told(findings):
    return [
        (f.rule, f.severity.value, f.message)
        for f in findings
        if f.severity in WEIGHTS and f.rule not in ("grade-missing", "grade-assumed")
    ]


MESSAGES = [
    pytest.param(
        "Mark,Qty\nC12,24\nC13,2\n",
        PART,
        [("bill-mark-without-part", "error", "C13 is in the bill; no part that could be read has")],
        id="missing",
    ),
    pytest.param(
        "Mark,Qty\nC13,24\n",
        PART,
        [
            ("mark-not-in-bill", "error", "C12 is in no row of the bill bill.csv"),
            ("bill-mark-without-part", "error", "C13 is in the bill"),
        ],
        id="another-mark",
    ),
    pytest.param(
        "Mark,Qty\nc12,24\n",
        PART,
        [
            ("mark-not-in-bill", "error", "C12 is in no row"),
            ("bill-mark-without-part", "error", "; there is C12, which differs in case"),
        ],
        id="another-case",
    ),
    pytest.param(
        "Mark,Qty\nC12,20\n",
        PART,
        [("bill-quantity-differs", "error", "24 of C12 in the part files; the bill asks for 20")],
        id="quantity",
    ),
    pytest.param(
        "Mark,Qty\nC12,20\nC12,5\n",
        PART,
        [("bill-quantity-differs", "error", "the bill asks for 25 (20 + 5)")],
        id="quantity-summed",
    ),
    pytest.param(
        "Mark,Qty,Section\nC12,24,L4x4x5/16\n",
        PART,
        [
            (
                "bill-section-differs",
                "error",
                "the bill says L4x4x5/16 for C12, the part is L4x4x3/8: they differ by 1/16 in.",
            )
        ],
        id="section",
    ),
    pytest.param(
        "Mark,Qty,Section\nC12,24,W10x49\n",
        PART,
        [("bill-section-differs", "error", "the bill says W10x49 for C12, the part is L4x4x3/8")],
        id="a-beam",
    ),
    pytest.param(
        "Mark,Qty,Length\nC12,24,11-1/4\n",
        PART,
        [
            (
                "bill-length-differs",
                "error",
                "the part is 11-1/2 in.: they differ by 1/4 in., more than 1/64 in.",
            )
        ],
        id="length",
    ),
    pytest.param(
        "Mark,Qty,Length\nC12,24,292.1\n",
        PART,
        [("bill-length-differs", "error", '; in millimetres it fits: write units = "mm" under')],
        id="length-in-another-unit",
    ),
    pytest.param(
        "Mark,Qty,Grade\nC12,24,A572-50\n",
        PART.replace("length", "grade A36 length"),
        [("bill-grade-differs", "error", "the bill says A572-50 for C12, the part is A36")],
        id="grade",
    ),
    pytest.param(
        "Mark,Qty,Grade\nC12,24,A36\n",
        PART,
        [
            (
                "bill-grade-differs",
                "warning",
                "the bill says A36 for C12, the part states no grade",
            )
        ],
        id="grade-not-stated",
    ),
    pytest.param(
        "Mark,Qty,Rev\nC12,24,B\n",
        PART.replace("inch", 'inch revision "A"'),
        [
            (
                "bill-revision-differs",
                "error",
                "the bill asks for revision B of C12, the part is revision A, an older one",
            )
        ],
        id="revision-older",
    ),
    pytest.param(
        "Mark,Qty,Rev\nC12,24,2\n",
        PART.replace("inch", 'inch revision "A"'),
        [("bill-revision-differs", "error", "the two can't be put in order")],
        id="revision-of-another-kind",
    ),
    pytest.param(
        "Mark,Qty,Weight (lb)\nC12,24,300\n",
        PART,
        [
            (
                "bill-mass-differs",
                "warning",
                "the bill says a mass of 300 for C12, one piece is 9.39 lb, 24 of them 225.4",
            )
        ],
        id="mass",
    ),
    pytest.param(
        "Mark,Qty\nC12,x\n",
        PART,
        [("bill-cell-unreadable", "error", "x is no number of pieces")],
        id="no-quantity",
    ),
    pytest.param(
        "Mark,Qty,Rev\nC12,,A\n",
        PART,
        [("bill-cell-unreadable", "error", "no number of pieces; the quantity of C12 is not")],
        id="empty-quantity",
    ),
    pytest.param(
        "Mark,Qty,Section\nC12,24,foo 3\n",
        PART,
        [("bill-cell-unreadable", "warning", "the section of C12 is not compared")],
        id="no-section",
    ),
    pytest.param(
        "Mark,Qty,Section\n,24,L4x4x3/8\nC12,24,L4x4x3/8\nTotal,48,\n",
        PART,
        [("bill-row-without-mark", "warning", "a row without a mark (L4x4x3/8): it is not")],
        id="no-mark",
    ),
]


@pytest.mark.parametrize(("bill", "part", "expected"), MESSAGES)
def test_what_is_said(bill, part, expected):
    found = told(looked_at(bill, part))
    assert [(rule, weight) for rule, weight, _ in found] == [(r, w) for r, w, _ in expected]
    for (_, _, message), (_, _, words) in zip(found, expected, strict=True):
        assert words in message


@pytest.mark.parametrize(
    ("bill", "said"),
    [
        pytest.param("Mark,Qty,Length\nC12,24,0'-11 1/2\"\n", {}, id="feet-and-inches"),
        pytest.param("Mark,Qty,Length\nC12,24,11.5\n", {}, id="bare-takes-the-part's-unit"),
        pytest.param("Mark,Qty,Length mm\nC12,24,292.1\n", {}, id="unit-of-the-column"),
        pytest.param("Mark;Qty;Length (mm)\nC12;24;292,1\n", {}, id="decimal-comma"),
        pytest.param("Mark,Qty,Length\nC12,24,292.1\n", {"units": "mm"}, id="unit-of-settings"),
        pytest.param("Mark,Qty,Length\nC12,24,292.1 mm\n", {"units": "inch"}, id="unit-in-cell"),
        pytest.param("Mark,Qty,Section\nC12,24,L 4 X 4 X 3/8\n", {}, id="section-respelt"),
        pytest.param("Mark,Qty,Section\nC12,24,L102x102x9.5\n", {}, id="section-metric"),
        pytest.param("Nr,Qty\nC12,24\n", {"columns": {"mark": "nr"}}, id="column-of-settings"),
        pytest.param("Qty,Total Qty,Mark\n12,24,C12\n", {}, id="total-goes-before-each"),
        pytest.param("Mark,Qty,Weight\nC12,24,225\n", {}, id="pounds-of-all"),
        pytest.param("Mark,Qty,Weight\nC12,24,4.3\n", {}, id="kilograms-of-one"),
        pytest.param("Mark,Qty,Rev\nC12,24,-\n", {}, id="no-revision-asked-for"),
        pytest.param("Mark,Qty\nC12,24\nC13,0\n", {}, id="none-asked-for"),
        pytest.param("Mark,Qty,Rev\nC12,24,A\n", {}, id="no-revision-stated"),
        pytest.param("Mark,Qty,Section\nC12,24,\nW1,3,W10x49\nP1,2,HSS4x4x1/4\n", {}, id="beams"),
        pytest.param(
            "Mark,Qty,Section,Len\nC12,4,,\nC12,20,,\nSumme,24,,\n", {}, id="sums-by-figure"
        ),
        pytest.param("Mark,Qty,Section\nC12,24,\n,90,M20x60\n,24,\n", {}, id="bolts-unmarked"),
        pytest.param("Mark,Qty\nC12,24\nP1,3\n", {"elsewhere": ("P*",)}, id="made-by-others"),
    ],
)
def test_what_means_the_same_is_no_difference(bill, said):
    assert not told(looked_at(bill, PART, **said))


@pytest.mark.parametrize(
    ("units", "length", "billed", "is_told"),
    [
        pytest.param("inch", "11-1/2", "11.5156", False, id="under-a-64th"),
        pytest.param("inch", "11-1/2", "292.506", True, id="over-a-64th"),
        pytest.param("mm", "300", "300.5", False, id="at-half-a-millimetre"),
        pytest.param("mm", "300", "299.5", False, id="at-half-a-millimetre-below"),
        pytest.param("mm", "300", "300.51", True, id="over-half-a-millimetre"),
        pytest.param("mm", "300", "299.49", True, id="over-half-a-millimetre-below"),
    ],
)
def test_the_tolerance_of_length(units, length, billed, is_told):
    part = f"units {units}\npart A {{ section FB100x10  length {length} }}\n"
    header = "Length mm" if billed == "292.506" else "Length"
    found = told(looked_at(f"Mark,Qty,{header}\nA,1,{billed}\n", part))
    assert [rule for rule, _, _ in found] == ["bill-length-differs"] * is_told


def test_the_shop_sets_its_own_tolerance_weight_and_off():
    part = "units mm\npart A { section FB100x10  length 300 }\n"
    bill = "Mark,Qty,Length\nA,1,302\n"
    name = "bill-length-differs"
    wide = Practice(code="none", limits={name: read_limit("2mm", ("",))})
    assert not told(looked_at(bill, part, practice=wide))
    weighed = Practice(code="none", severities={name: Severity.WARNING})
    assert [w for _, w, _ in told(looked_at(bill, part, practice=weighed))] == ["warning"]
    off = Practice(code="none", severities={name: None})
    assert not told(looked_at(bill, part, practice=off))
    digests = _digests(part)
    for practice, count in ((wide, 0), (weighed, 0), (off, 0), (Practice(code="none"), 1)):
        found = _checked(bill, digests, Configuration(practice=practice))
        assert sum(f.severity is Severity.ERROR for f in found) == count


def _digests(*parts):
    (reader,) = (r for r in readers() if r.name == "bmk")
    inputs = [
        Input(
            source=Source(path=f"{n}.bmk", data=text.encode()),
            reader=reader,
            conventions=Conventions(),
        )
        for n, text in enumerate(parts)
    ]
    return [judged.digest for judged in examine(inputs).judged]


def _checked(text, digests, configuration):
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as name:
        path = Path(name) / "bill.csv"
        path.write_text(text, encoding="utf-8")
        return check_bill(path, configuration, digests)


def test_parts_and_bill_agree_on_digests_alone():
    found = _checked("Mark,Qty\nC12,24\nX1,1\n", _digests(PART, PART.replace("12", "13")), _SET)
    assert sorted((f.rule, f.mark, f.span.line) for f in found if f.severity in WEIGHTS) == [
        ("bill-mark-without-part", "X1", 3),
        ("mark-not-in-bill", "C13", 1),
    ]


_SET = Configuration()


def test_older_revisions_do_not_count():
    old = PART.replace("inch", 'inch revision "A"')
    new = old.replace('"A"', '"B"')
    assert not told(looked_at("Mark,Qty,Rev\nC12,24,B\n", old, new))


def test_quantities_of_one_mark_in_two_orders():
    seven, eight = (PART.replace("inch", f'inch order "TQ-{n}"') for n in (7, 8))
    assert not told(looked_at("Order,Mark,Qty\nTQ-7,C12,24\nTQ-8,C12,24\n", seven, eight))
    assert not told(looked_at("Mark,Qty\nC12,48\n", seven, eight))
    found = told(looked_at("Order,Mark,Qty\nTQ-7,C12,24\nTQ-9,C12,24\n", seven, eight))
    assert [(rule, message) for rule, _, message in found] == [
        ("mark-not-in-bill", "C12 of order TQ-8 is in no row of the bill bill.csv"),
        (
            "bill-mark-without-part",
            f"C12 of order TQ-9 is in the bill; {NONE}; C12 here is of order TQ-8",
        ),
    ]


def test_a_waiver_in_the_part_accepts_what_the_bill_contradicts():
    part = PART.replace("}", '\n  waive bill-quantity-differs at 24 "RFI 4" by "QA"\n}')
    bill = "Mark,Qty\nC12,20\n"
    (finding,) = (f for f in looked_at(bill, part) if f.rule == "bill-quantity-differs")
    assert finding.waived is not None
    assert "RFI 4" in finding.waived
    without = [f for f in looked_at("Mark,Qty\nC12,24\n", part) if f.rule == "waiver-unused"]
    assert len(without) == 1


def test_without_a_bill_its_rules_did_not_run_and_waivers_wait():
    part = PART.replace("}", '\n  waive bill-quantity-differs at 24 "RFI 4" by "QA"\n}')
    (reader,) = (r for r in readers() if r.name == "bmk")
    source = Source(path="a.bmk", data=part.encode())
    verdict = examine([Input(source=source, reader=reader, conventions=Conventions())]).verdict
    assert not [f for f in verdict.findings if f.rule.startswith("waiver")]
    assert ("bill-quantity-differs", "no bill is given") in verdict.rules_not_applicable
    assert "bill-quantity-differs" not in verdict.rules_run


def test_findings_stand_at_the_cell_and_name_the_part():
    (finding,) = (
        f for f in looked_at("Mark,Qty,Len\nC12,24,3\n", PART) if f.rule == "bill-length-differs"
    )
    assert finding.span == ("bill.csv", 2, 8, 2, 9)
    assert [r.span[:2] for r in finding.related] == [("0.bmk", 2)]
    assert (finding.mark, finding.element, finding.unit) == ("C12", "length", "mm")
    assert finding.value == pytest.approx(8.5 * 25.4)
    assert finding.limit == pytest.approx(25.4 / 64)


def test_what_was_read_is_said():
    (note,) = (
        f for f in looked_at("Mark,Qty\nC12,20\nC12,4\nW1,1\n", PART) if f.rule == "bill-read"
    )
    assert note.message == "the bill asks for 2 marks in 3 rows, 25 pieces"


def test_what_is_not_compared_is_said():
    notes = [
        f.message
        for f in looked_at("Mark,Qty,Grade\nC12,24,\nW1,3,A36\n", PART.replace("}", "} # W1"))
        if f.rule == "bill-not-compared"
    ]
    assert notes == [
        "1 row has no grade: nothing is compared there",
        "the bill has no column for the length: it is not compared",
        "the bill has no column for the revision: it is not compared",
        "the bill has no column for the section: it is not compared",
    ]


SETTINGS = [
    pytest.param('[bill]\nunits = "inch"\nmass = "lb"\n', [], id="good"),
    pytest.param('[bill]\ncolumns = { mark = "Pc Mark" }\n', [], id="columns"),
    pytest.param('[bill]\nunits = "cm"\n', [("setting-bad", 2)], id="unit"),
    pytest.param("[bill]\nmass = 3\n", [("setting-bad", 2)], id="mass"),
    pytest.param('[bill]\nelsewhere = ["P*"]\n', [], id="elsewhere"),
    pytest.param('[bill]\nelsewhere = "P*"\n', [("setting-bad", 2)], id="elsewhere-no-list"),
    pytest.param("bill = 3\n", [("setting-bad", 1)], id="no-table"),
    pytest.param('[bill]\nfile = "x"\n', [("setting-unknown", 2)], id="unknown"),
    pytest.param('[bill]\ncolumns = { marks = "x" }\n', [("setting-unknown", 2)], id="field"),
    pytest.param("[bill]\ncolumns = { mark = 3 }\n", [("setting-bad", 2)], id="name"),
    pytest.param("[bill]\ncolumns = 3\n", [("setting-bad", 2)], id="no-names"),
]


@pytest.mark.parametrize(("text", "expected"), SETTINGS)
def test_settings(text, expected):
    own = understood(Path("backmark.toml"), text.encode())
    assert [(f.rule, f.span.line) for f in own.findings] == expected


def test_settings_are_read():
    text = '[bill]\nunits = "inch"\nmass = "lb"\ncolumns = { mark = "Pc Mark" }\n'
    own = understood(Path("backmark.toml"), text.encode()).bill
    assert own == BillSettings(columns={"mark": "Pc Mark"}, units="inch", mass="lb")


CELL = st.sampled_from(
    [
        *("", "C12", "C13", "24", "1.234", "-1", "x", '"L4x4x3/8"', "L4x4x3/8", "FB100x10"),
        *("9'-4 1/2\"", "1/2", "11 - 1/2", "1e9", "A36", "B", "=1+1", "\u00bd", "2L4x4x3/8", "W"),
        *("99999999999999", "total", "'", '"', "1,5", "\ufffd"),
    ]
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.lists(CELL, min_size=1, max_size=8), max_size=4), st.sampled_from(",;"))
@example([["C12", "1", "L4x4x3/8", "1e9"]], ",")
def test_no_bill_raises(rows, delimiter):
    head = delimiter.join(("mark", "qty", "section", "length", "grade", "rev", "mass", "order"))
    text = "\n".join([head, *(delimiter.join(row) for row in rows)])
    for finding in looked_at(text, PART):
        assert finding.message
        assert finding.span.line >= 1


@given(st.binary(max_size=60))
def test_no_bytes_raise(data):
    reading = read_bill(Source(path="b.csv", data=data))
    assert reading.bill is not None or reading.findings


def test_a_bill_that_is_not_there(tmp_path):
    with pytest.raises(WorkError, match="can't read"):
        load_bill(tmp_path / "none.csv")


def _sample(name):
    ran = CliRunner().invoke(
        main,
        ["check", str(ROOT / "samples" / "tern-quay"), "--bill", str(BILLS / name)],
        catch_exceptions=False,
    )
    return ran.exit_code, re.findall(r"(error|warning): .* \[([a-z-]+)\]", ran.output), ran.output


def test_the_sample_bill_agrees():
    code, found, output = _sample("tern-quay.csv")
    assert (code, found) == (0, []), output


def test_the_faulty_sample_bill_shows_what_it_names():
    code, found, output = _sample("faulty.csv")
    named = re.findall(
        r"bill-[a-z-]+|mark-not-in-bill",
        " ".join(re.findall("shows (.*)", (BILLS / "faulty.csv").read_text(encoding="utf-8"))),
    )
    assert code == 1
    assert sorted(rule for _, rule in found) == sorted(named), output


def test_the_part_list_is_a_bill_of_its_own_parts(tmp_path):
    run = CliRunner()
    parts, bill = str(ROOT / "samples" / "tern-quay"), str(tmp_path / "list.csv")
    assert run.invoke(main, ["list", parts, "--out", bill]).exit_code == 0
    ran = run.invoke(main, ["check", parts, "--bill", bill, "--fail-on", "warning"])
    assert ran.exit_code == 0, ran.output


def test_settings_beside_the_bill_go_before_the_parts_and_no_cache_hides_them(tmp_path):
    (tmp_path / "parts").mkdir()
    (tmp_path / "office").mkdir()
    (tmp_path / "parts" / "a.bmk").write_text(PART)
    bill = tmp_path / "office" / "bill.csv"
    bill.write_text("Nr,Qty,Length\nC12,24,292.1\n")
    names = '[bill]\ncolumns = { mark = "Nr" }\n'

    def ran():
        given = [str(tmp_path / "parts"), "--bill", str(bill)]
        out = CliRunner().invoke(main, ["check", *given], env={"XDG_CACHE_HOME": str(tmp_path)})
        return out.exit_code, re.findall(r"error: .* \[([a-z-]+)\]", out.output)

    assert ran() == (1, ["csv-column-missing"])
    (tmp_path / "parts" / "backmark.toml").write_text(names)
    assert ran() == (1, ["bill-length-differs"])
    (tmp_path / "office" / "backmark.toml").write_text(f'{names}units = "mm"\n')
    assert ran() == (0, [])
    (tmp_path / "office" / "backmark.toml").write_text(f'{names}units = "inch"\n')
    assert ran() == (1, ["bill-length-differs"])
    (tmp_path / "office" / "backmark.toml").write_text(f'{names}units = "feet"\n')
    assert ran() == (1, ["setting-bad", "bill-length-differs"])


def test_a_missing_bill_ends_with_2(tmp_path):
    (tmp_path / "a.bmk").write_text(PART)
    out = CliRunner().invoke(main, ["check", str(tmp_path), "--bill", str(tmp_path / "no.csv")])
    assert out.exit_code == 2
    assert "can't read" in out.output


def test_the_pool_and_the_page_say_the_same_of_a_bill(tmp_path):
    for number in range(40):
        part = PART.replace("C12", f"C{number}").replace("11-1/2", f"{number + 5}")
        (tmp_path / f"{number}.bmk").write_text(part)
    rows = "".join(f"C{number},24,{number + 5}\n" for number in range(39))
    (tmp_path / "bill.csv").write_text(f"Mark,Qty,Length\n{rows}X1,1,3\n")
    said = []
    for more in (["--jobs", "1"], ["--jobs", "2"], ["--format", "html"]):
        given = [str(tmp_path), "--bill", str(tmp_path / "bill.csv"), "--no-cache", *more]
        out = CliRunner().invoke(main, ["check", *given])
        said.append(out.output)
        assert out.exit_code == 1
        assert "C39 is in no row of the bill" in out.output
        assert "X1 is in the bill; no part" in out.output
    assert said[0] == said[1]
