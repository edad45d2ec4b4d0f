"""Decisions kept beside the parts: the side file, its places, and what becomes of findings."""

import json
import time
import tomllib
from pathlib import Path

import jsonschema
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.batch.configuration import Configurations
from translator.batch.decision_words import waivers_schema
from translator.batch.waivers_file import SideFiles, understand
from translator.commands import main
from translator.documents.toml_places import places
from translator.resources import resource

SCHEMA = jsonschema.Draft202012Validator(waivers_schema())

TOML = '''\
# [not]
fail_on = "error"  # = x
"a b".'c' = [ 1, # [
  "]", """ two
"quoted" \\""" ]"""" , 2]

[[waiver]]
rule = 'x'
reason = """a
[not] = b"""   # c
[waiver.sub]
k={a=1,b="}"}
[[waiver]]
  rule = "y"
[nc]\r
u = 1
[[ a . "x y" ]]
[[a."x y".z]]
q=1
[[a."x y".z]]
q='''
TOML += "'''it''''\n"

PLACES = {
    ("fail_on",): (2, 1, 2, 18),
    ("a b", "c"): (3, 1, 5, 25),
    ("waiver", 0): (7, 1, 7, 11),
    ("waiver", 0, "rule"): (8, 1, 8, 11),
    ("waiver", 0, "reason"): (9, 1, 10, 13),
    ("waiver", 0, "sub"): (11, 1, 11, 13),
    ("waiver", 0, "sub", "k"): (12, 1, 12, 14),
    ("waiver", 1): (13, 1, 13, 11),
    ("waiver", 1, "rule"): (14, 3, 14, 13),
    ("nc",): (15, 1, 15, 5),
    ("nc", "u"): (16, 1, 16, 6),
    ("a", "x y", 0): (17, 1, 17, 16),
    ("a", "x y", 0, "z", 0): (18, 1, 18, 14),
    ("a", "x y", 0, "z", 0, "q"): (19, 1, 19, 4),
    ("a", "x y", 0, "z", 1): (20, 1, 20, 14),
    ("a", "x y", 0, "z", 1, "q"): (21, 1, 21, 12),
}


def test_where_things_stand_in_a_toml_file():
    table = tomllib.loads(TOML)
    found = places("f.toml", TOML)
    assert {path: tuple(span)[1:] for path, span in found.known.items()} == PLACES
    for path in found.known:
        value = table
        for step in path:
            value = value[step]


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("waiver", 1, "mark"), 13),
        (("waiver", 7), 1),
        (("nc", "u", "deeper"), 16),
        ((), 1),
    ],
)
def test_what_has_no_place_of_its_own_stands_at_what_is_around_it(path, line):
    assert places("f.toml", TOML).of(*path)[:2] == ("f.toml", line)


NAMES = st.text("abc-_9", min_size=1, max_size=3)
QUOTED = st.text("ab .#=[]\\'é", max_size=4).map(json.dumps)
VALUES = st.one_of(
    st.integers(-9, 9).map(str),
    QUOTED,
    st.lists(QUOTED, max_size=3).map(lambda items: "[\n" + ", # ]\n".join(items) + "\n]"),
)
KEYS = st.lists(NAMES | QUOTED, min_size=1, max_size=2).map(" . ".join)
LINES = st.one_of(
    st.tuples(KEYS, VALUES).map(" = ".join),
    KEYS.map(lambda key: f"[{key}]"),
    KEYS.map(lambda key: f"[[ {key} ]]"),
    st.sampled_from(["", "# x = 1", "  "]),
)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.lists(LINES, max_size=6).map("\n".join))
def test_every_place_leads_to_a_value_and_begins_what_it_names(text):
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = text.split("\n")
    known = places("f", text).known
    for path, span in known.items():
        value = table
        for step in path:
            value = value[step]
        here = lines[span.line - 1][span.column - 1 :]
        assert here.startswith("[") or tomllib.loads(
            "\n".join([here, *lines[span.line : span.end_line]])
        )
    assert set(table) <= {path[0] for path in known}


ENTRY = 'rule = "hole-in-fillet"\nmark = "X5"\nreason = "RFI 17"\n'
BAD = {
    "no reason": (
        '[[waiver]]\nrule = "x"\nmark = "X5"\n',
        (1, "the waiver has no reason: why it is accepted"),
    ),
    "blank reason": (
        '[[waiver]]\nrule = "x"\nmark = "X5"\nreason = "  "\n',
        (4, 'reason is "  "; it takes text in quotes'),
    ),
    "no mark": (
        '[[waiver]]\nrule = "x"\nreason = "x"\n',
        (1, "the waiver has no mark: piece mark of the part"),
    ),
    "a mark that is a number": (
        '[[waiver]]\nrule = "x"\nmark = 1001\nreason = "x"\n',
        (3, "mark is 1001; it takes text in quotes"),
    ),
    "no name of a rule": (
        '[[waiver]]\nrule = "Hole in fillet"\nmark = "X5"\nreason = "x"\n',
        (2, 'rule is "Hole in fillet", which is no name of a rule'),
    ),
    "field of no waiver": (
        f'[[waiver]]\n{ENTRY}colour = "red"\n',
        (
            5,
            (
                'a waiver has no field "colour"; there are rule, mark, order, leg, feature, value,'
                " reason, by, until_revision, until_date"
            ),
        ),
    ),
    "leg": (
        f'[[waiver]]\n{ENTRY}leg = "c"\n',
        (5, 'leg is "c"; it takes "a", "b", "face"'),
    ),
    "feature": (
        f'[[waiver]]\n{ENTRY}feature = "hole no. 3"\n',
        (
            5,
            'feature is "hole no. 3"; it takes an id like "a3", or kind and number like "hole 3"',
        ),
    ),
    "length without a unit": (
        f'[[waiver]]\n{ENTRY}value = "15/16"\n',
        (5, "the value '15/16' does not name its unit: write it like 90mm or 3-1/2in"),
    ),
    "value of no kind": (
        f"[[waiver]]\n{ENTRY}value = true\n",
        (
            5,
            (
                "value is true; it takes a number in millimetres or a length in quotes, like 23.8"
                ' or "15/16in"'
            ),
        ),
    ),
    "value without end": (
        f"[[waiver]]\n{ENTRY}value = inf\n",
        (
            5,
            (
                "value is Infinity; it takes a number in millimetres or a length in quotes, like"
                ' 23.8 or "15/16in"'
            ),
        ),
    ),
    "day": (
        f'[[waiver]]\n{ENTRY}until_date = "2027-02-30"\n',
        (5, 'until_date is "2027-02-30"; it takes a day of the calendar, like 2027-01-31'),
    ),
    "hour": (
        f"[[waiver]]\n{ENTRY}until_date = 2027-01-31T10:00:00\n",
        (
            5,
            "until_date is 2027-01-31T10:00:00; it takes a day of the calendar, like 2027-01-31",
        ),
    ),
    "control character": (
        '[[waiver]]\nrule = "x"\nmark = "X5"\nreason = "a\\u0007"\n',
        (4, 'reason is "a\\u0007": it holds the control character U+0007'),
    ),
    "one table": (
        f"[waiver]\n{ENTRY}",
        (1, "waiver is a table; each one is a table of its own, [[waiver]]"),
    ),
    "other table": (
        f"[[waivers]]\n{ENTRY}",
        (1, 'there is no table "waivers" here; there are [[waiver]] and [[substitution]]'),
    ),
    "substitution of what": (
        '[[substitution]]\nmark = "X5"\nfrom = "a"\nto = "b"\nreason = "c"\n',
        (1, "the substitution has no field: what is substituted"),
    ),
    "substitution of a length": (
        '[[substitution]]\nmark = "X5"\nfield = "length"\nfrom = "a"\nto = "b"\nreason = "c"\n',
        (3, 'field is "length"; it takes "section", "grade"'),
    ),
    "substitution for nothing": (
        '[[substitution]]\nmark = "X5"\nfield = "grade"\nfrom = "a"\nreason = "c"\n',
        (1, "the substitution has no to: what the part is made with, and says"),
    ),
}


@pytest.mark.parametrize(("text", "said"), BAD.values(), ids=BAD.keys())
def test_an_entry_that_is_no_good(text, said):
    decisions, findings = understand("waivers.toml", text.encode())
    assert [(f.span.line, f.message) for f in findings] == [said]
    assert {f.severity.value for f in findings} == {"error"}
    assert (decisions.waivers, decisions.substitutions) == ((), ())


BEYOND_A_SCHEMA = {
    *("length without a unit", "value without end", "day", "control character"),
    *("feature", "hour"),
}
"""What no schema can tell, and a day with an hour, which JSON has no word for."""


@pytest.mark.parametrize("name", BAD)
def test_the_schema_refuses_the_same(name):
    table = json.loads(json.dumps(tomllib.loads(BAD[name][0]), default=str))
    assert SCHEMA.is_valid(table) == (name in BEYOND_A_SCHEMA - {"hour"})


WHOLE = f"""\
[[waiver]]
{ENTRY}order = "TQ-7"
leg = "b"
feature = "Hole  2"
value = "15/16in"
by = "QA"
until_revision = "B"
until_date = 2027-01-31

[[substitution]]
mark = "X5"
order = "TQ-7"
field = "grade"
from = "S275JR"
to = "S355JR"
reason = "stock"
by = "QA"
"""


def test_all_that_an_entry_may_say():
    decisions, findings = understand("waivers.toml", WHOLE.encode())
    assert findings == ()
    (side,), (substitution,) = decisions.waivers, decisions.substitutions
    assert (side.mark, side.order, side.counted, side.span[1]) == ("X5", "TQ-7", ("hole", 2), 1)
    assert side.waiver.model_dump() == {
        "rule": "hole-in-fillet",
        "leg": "b",
        "feature": None,
        "value": 23.8125,
        "reason": "RFI 17",
        "by": "QA",
        "until_revision": "B",
        "until_date": "2027-01-31",
    }
    assert (substitution.old, substitution.new, substitution.by) == ("S275JR", "S355JR", "QA")
    SCHEMA.validate(json.loads(json.dumps(tomllib.loads(WHOLE), default=str)))


def test_the_schema_is_committed_and_sound():
    committed = json.loads(resource("schemas", "waivers.schema.json").read_text(encoding="utf-8"))
    assert committed == waivers_schema()
    jsonschema.Draft202012Validator.check_schema(committed)


UNREADABLE = {
    "no text": (b"\xff", "it is not UTF-8 text"),
    "no toml": (b"a\n", "expected '=' after a key in a key/value pair"),
    "deep": (b"a=" + b"[" * 9000, "it is nested too deeply"),
    "long number": (b"a=" + b"9" * 9000, "a number in it has too many digits"),
}


@pytest.mark.parametrize(("data", "why"), UNREADABLE.values(), ids=UNREADABLE.keys())
def test_a_file_that_is_no_toml(data, why):
    decisions, (finding,) = understand("waivers.toml", data)
    assert finding.rule == "waivers-unreadable"
    assert finding.message == f"the waivers file can't be understood: {why}"
    assert decisions.waivers == ()


@settings(max_examples=200, deadline=None, derandomize=True)
@given(
    st.binary(max_size=60)
    | st.lists(
        st.sampled_from(["[[waiver]]", "[waiver]", 'rule="a"', "mark='m'", "reason='r'", "value=1"])
        | LINES,
        max_size=6,
    ).map(lambda lines: "\n".join(lines).encode())
)
def test_any_bytes(data):
    understand("waivers.toml", data)


def test_thousands_of_waivers_are_read_quickly():
    data = "".join(f'[[waiver]]\n{ENTRY}feature = "b{n}"\n' for n in range(2500)).encode()
    start = time.process_time()
    decisions, findings = understand("waivers.toml", data)
    assert (len(decisions.waivers), findings) == (2500, ())
    assert time.process_time() - start < 2.0


BMK = """\
units mm
order "TQ-7"
part X5 {
  section L100x100x10
  length 260
  grade S355JR
  leg b { holes 22 gauge 28 at 60, 200 }
}
"""
NC = """\
ST
  TQ-7
  E-110
  1
  X14
  S275JR
  2
  L90*90*10
  L
   400.00
    90.00
    90.00
    10.00
    10.00
    11.00
     9.630
     0.311
     0.000
     0.000
     0.000
     0.000




BO
  v   100.00u    50.00    22.00     0.00
EN
"""


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("d").mkdir()
    Path("d/X5.bmk").write_text(BMK, encoding="utf-8")
    return tmp_path


def _check(*arguments):
    """Return what ``check`` finds: path and line, rule, waived reason, message."""
    result = CliRunner().invoke(main, ["check", *arguments, "--format", "json"])
    return [
        (f["path"], f["line"], f["rule"], f.get("waived"), f["message"])
        for f in json.loads(result.stdout)["findings"]
    ]


def _side(*lines, path="d/waivers.toml", rule="hole-in-fillet", mark="X5"):
    text = f'[[waiver]]\nrule = "{rule}"\nmark = "{mark}"\nreason = "RFI 17"\n'
    Path(path).write_text("\n".join((text, *lines)) + "\n", encoding="utf-8")


def _outcome(*arguments):
    """Return which fillet findings are waived, and what is said of the waiver."""
    found = _check(*(arguments or ("d",)))
    holes = [waived for _, _, rule, waived, _ in found if rule == "hole-in-fillet"]
    said = [(rule, message) for path, _, rule, _, message in found if path.endswith(".toml")]
    return holes, said


WAIVERS = {
    "one hole by number": (('leg = "b"', 'feature = "hole 2"'), [None, "RFI 17"], None),
    "one hole by id": (('feature = "b1"',), ["RFI 17", None], None),
    "its value": (
        ('feature = "b1"', "value = 17"),
        ["RFI 17 (accepted down to 17 mm)", None],
        None,
    ),
    "its order": (('feature = "b1"', 'order = "TQ-7"'), ["RFI 17", None], None),
    "another order": (
        ('feature = "b1"', 'order = "TQ-8"'),
        [None, None],
        (
            "waiver-without-place",
            "there is no part X5 of order TQ-8 here: the waiver stands for nothing",
        ),
    ),
    "worse than accepted": (
        ('feature = "b1"', 'value = "17.1mm"'),
        [None, None],
        (
            "waiver-lapsed",
            (
                "the waiver of hole-in-fillet b1 no longer holds: the value is now 17 mm, it"
                " accepts 17.1 mm"
            ),
        ),
    ),
    "no such number": (
        ('leg = "b"', 'feature = "hole 3"'),
        [None, None],
        ("waiver-without-place", "there is no hole 3: leg b of X5 has 2 holes"),
    ),
    "no such kind": (
        ('leg = "a"', 'feature = "slot 1"'),
        [None, None],
        ("waiver-without-place", "there is no slot 1: leg a of X5 has no slot"),
    ),
    "a number without its leg": (
        ('feature = "hole 1"',),
        [None, None],
        ("waiver-without-place", "X5 has two legs: say on which of them hole 1 is"),
    ),
    "no such id": (
        ('feature = "b9"',),
        [None, None],
        ("waiver-without-place", "X5 has no feature b9 there: the waiver accepts nothing"),
    ),
    "a leg it has not": (
        ('leg = "face"',),
        [None, None],
        (
            "waiver-without-place",
            "the waiver of hole-in-fillet for X5 accepts nothing, since an angle has legs a and b",
        ),
    ),
    "the part as a whole": (
        (),
        [None, None],
        ("waiver-unused", "the waiver of hole-in-fillet finds nothing to accept"),
    ),
    "until a revision": (
        ('feature = "b1"', 'until_revision = "B"'),
        [None, None],
        (
            "waiver-lapsed",
            (
                "the waiver of hole-in-fillet b1 no longer holds: it runs until revision B, and the"
                " part states no revision"
            ),
        ),
    ),
}


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(("lines", "waived", "said"), WAIVERS.values(), ids=WAIVERS.keys())
def test_what_a_waiver_beside_a_part_does(lines, waived, said):
    _side(*lines)
    assert _outcome() == (waived, [] if said is None else [said])
    Path("d/waivers.toml").rename("d/backmark.toml")
    assert _outcome() == (waived, [] if said is None else [said])


@pytest.mark.usefixtures("here")
def test_an_unknown_rule_and_one_that_did_not_run():
    _side(rule="hole-in-filet")
    assert _outcome()[1] == [("waiver-unknown", "there is no rule 'hole-in-filet' to waive")]
    _side(rule="punch-overloaded")
    assert _outcome()[1] == []


@pytest.mark.usefixtures("here")
def test_a_day_counts_only_when_a_day_is_named():
    _side('feature = "b1"', "until_date = 2027-01-31")
    assert _outcome() == (["RFI 17 (until 2027-01-31)", None], [])
    assert _outcome("d", "--as-of", "2027-01-31") == (["RFI 17 (until 2027-01-31)", None], [])
    said = "the waiver of hole-in-fillet b1 no longer holds: it ran until 2027-01-31"
    assert _outcome("d", "--as-of", "2027-02-01") == ([None, None], [("waiver-lapsed", said)])


@pytest.mark.usefixtures("here")
def test_a_mark_is_called_missing_only_when_all_is_looked_at():
    _side(mark="X99")
    message = "there is no part X99 here: the waiver stands for nothing"
    said = ("waiver-without-place", message)
    assert _outcome("d")[1] == [said]
    assert _outcome(".")[1] == [said]
    assert _outcome("d/X5.bmk")[1] == []


@pytest.mark.usefixtures("here")
def test_a_rule_of_the_set_is_not_called_unused_for_one_file_alone():
    _side(rule="duplicate-mark")
    assert _outcome("d/X5.bmk")[1] == []
    assert [rule for rule, _ in _outcome("d")[1]] == ["waiver-unused"]


def test_files_are_looked_for_up_to_the_settings(here):
    Path("d/e/f").mkdir(parents=True)
    Path("d/X5.bmk").rename("d/e/f/X5.bmk")
    _side('feature = "b1"', path="d/waivers.toml")
    assert _outcome("d")[0] == [None, None]
    Path("d/backmark.toml").write_text("", encoding="utf-8")
    assert _outcome("d")[0] == ["RFI 17", None]
    _side('feature = "b2"', path="d/e/f/waivers.toml")
    assert _outcome("d") == (["RFI 17", "RFI 17"], [])
    _side('feature = "b2"', path="waivers.toml")
    assert _outcome("d/e/f/X5.bmk") == (["RFI 17", "RFI 17"], [])
    shop = Configurations()
    for spelt, shown in (
        (Path("d/e/f"), ["d/e/f/waivers.toml", "d/waivers.toml"]),
        (here / "d" / "e" / "f", [f"{here}/d/e/f/waivers.toml", f"{here}/d/waivers.toml"]),
    ):
        files = SideFiles([Path("d")])
        found = files.of(spelt, shop.of(spelt))
        assert [file.path for file in found] == shown
        assert all(file.is_whole for file in found)
        assert files.of(spelt, shop.of(spelt))[0] is found[0]
        assert list(files.sources) == shown


def test_files_above_are_named_as_the_caller_stands(here, monkeypatch):
    Path("d/e").mkdir()
    Path("d/X5.bmk").rename("d/e/X5.bmk")
    _side(rule="no-such-rule")
    Path("d/backmark.toml").write_text("", encoding="utf-8")
    monkeypatch.chdir(here / "d" / "e")
    assert _check(".")[-1][:3] == ("X5.bmk", 7, "hole-in-fillet")
    assert _check("X5.bmk")[0][:3] == ("../waivers.toml", 1, "waiver-unknown")
    read = CliRunner().invoke(main, ["check", "-", "--format", "json"], input=BMK)
    paths = [f["path"] for f in json.loads(read.stdout)["findings"]]
    assert "../waivers.toml" in paths


@pytest.mark.usefixtures("here")
def test_a_part_of_a_detailer_is_waived_and_stays_in_every_report():
    Path("d/X14.nc1").write_text(NC, encoding="utf-8")
    _side(rule="stated-mass-differs", mark="X14")
    (found,) = [f for f in _check("d") if f[2] == "stated-mass-differs"]
    assert found[3] == "RFI 17"
    run = ["check", "d/X14.nc1", "--format"]
    for form in ("text", "json", "sarif", "junit", "github"):
        text = CliRunner().invoke(main, [*run, form]).stdout
        assert "stated-mass-differs" in text
        assert "RFI 17" in text
        assert "d/waivers.toml" in text
    (result,) = [
        r
        for r in json.loads(CliRunner().invoke(main, [*run, "sarif"]).stdout)["runs"][0]["results"]
        if r["ruleId"] == "stated-mass-differs"
    ]
    (suppression,) = result["suppressions"]
    assert suppression["kind"] == "external"
    where = suppression["location"]["physicalLocation"]
    assert where["artifactLocation"]["uri"] == "d/waivers.toml"
    assert where["region"]["startLine"] == 1


@pytest.mark.usefixtures("here")
def test_a_decision_beside_a_part_never_enters_the_part():
    def document():
        CliRunner().invoke(main, ["translate", "d", "--to", "json", "--out", "out"])
        return Path("out/X5.part.json").read_bytes()

    plain = document()
    _side('feature = "b1"')
    assert document() == plain


@pytest.mark.usefixtures("here")
def test_what_is_waived_beside_a_part_does_not_keep_it_from_being_written():
    text = BMK.replace("gauge 28 at 60, 200", "gauge 95 at 60")
    Path("d/X5.bmk").write_text(text, encoding="utf-8")
    run = ["translate", "d", "--to", "json", "--out", "out"]
    assert CliRunner().invoke(main, run).exit_code == 1
    assert not Path("out/X5.part.json").exists()
    _side('feature = "b1"', rule="feature-breaks-edge")
    result = CliRunner().invoke(main, run)
    assert result.exit_code == 0, result.output
    assert Path("out/X5.part.json").exists()


@pytest.mark.usefixtures("here")
def test_the_first_waiver_that_accepts_gives_the_reason():
    own = '  waive hole-in-fillet on leg b hole 1 at 17 "from the drawing"\n}\n'
    text = BMK.removesuffix("}\n") + own
    Path("d/X5.bmk").write_text(text, encoding="utf-8")
    _side('feature = "b1"')
    assert _outcome() == (["from the drawing (accepted down to 17 mm)", None], [])


@pytest.mark.usefixtures("here")
def test_a_waiver_of_a_mark_that_comes_in_two_revisions_is_used_by_either():
    one = BMK.replace("part X5 {", 'part X5 {\n  revision "A"')
    two = BMK.replace("part X5 {", 'part X5 {\n  revision "B"').replace("28 at 60, 200", "55 at 60")
    Path("d/X5.bmk").write_text(one, encoding="utf-8")
    Path("d/X5-B.bmk").write_text(two, encoding="utf-8")
    _side('feature = "b1"')
    assert _outcome() == (["RFI 17", None], [])


def _substitute(field, old, new, **more):
    said = {"mark": "X5", "field": field, "from": old, "to": new, "reason": "stock", **more}
    lines = [f"{name} = {json.dumps(value)}" for name, value in said.items()]
    Path("d/waivers.toml").write_text("\n".join(["[[substitution]]", *lines]) + "\n")
    return [f[2:] for f in _check("d") if f[0] == "d/waivers.toml"]


DONE, DIFFERS = "substituted", "substitution-differs"
SUBSTITUTIONS = {
    "grade": (
        ("grade", "S275JR", "S355JR"),
        (DONE, "stock", "X5 is made with grade S355JR in place of S275JR"),
    ),
    "grade in other words": (
        ("grade", "S275JR", "EN 10025-2 S 355 JR"),
        (DONE, "stock", "X5 is made with grade EN 10025-2 S 355 JR in place of S275JR"),
    ),
    "grade not made": (
        ("grade", "S355JR", "S460N"),
        (
            DIFFERS,
            None,
            "X5 says grade S355JR still: grade S460N in place of S355JR is not made in it",
        ),
    ),
    "grade of neither side": (
        ("grade", "S235JR", "S275JR"),
        (
            DIFFERS,
            None,
            "X5 says grade S355JR, which is neither side of grade S275JR in place of S235JR",
        ),
    ),
    "section": (
        ("section", "L4x4x3/8", "RSA 100x100x10"),
        (DONE, "stock", "X5 is made with section RSA 100x100x10 in place of L4x4x3/8"),
    ),
    "section not made": (
        ("section", "L100x100x10", "L4x4x3/8"),
        (
            DIFFERS,
            None,
            (
                "X5 says section L100x100x10 still: section L4x4x3/8 in place of L100x100x10 is not"
                " made in it"
            ),
        ),
    ),
}


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize(("given_", "said"), SUBSTITUTIONS.values(), ids=SUBSTITUTIONS.keys())
def test_a_substitution_on_record(given_, said):
    assert _substitute(*given_) == [said]


@pytest.mark.usefixtures("here")
def test_who_decided_a_substitution_and_where_it_has_no_part():
    ((_, waived, _),) = _substitute("grade", "S275JR", "S355JR", by="QA")
    assert waived == "stock (QA)"
    assert _substitute("grade", "a", "b", mark="X6") == [
        (
            "substitution-without-place",
            None,
            "there is no part X6 here: the substitution stands for nothing",
        )
    ]


@pytest.mark.usefixtures("here")
def test_a_substitution_that_is_made_fails_no_run():
    Path("d/X5.bmk").write_text(BMK.replace("28 at 60, 200", "55 at 60, 200"), encoding="utf-8")
    run = ["check", "d", "--practice", "none", "--fail-on", "note"]
    assert CliRunner().invoke(main, run).exit_code == 0
    _substitute("grade", "S275JR", "S355JR")
    assert CliRunner().invoke(main, run).exit_code == 0
    _substitute("grade", "S355JR", "S275JR")
    assert CliRunner().invoke(main, run).exit_code == 1


@pytest.mark.usefixtures("here")
def test_a_file_that_can_not_be_read():
    Path("d/waivers.toml").write_bytes(b"#" * 256_001)
    result = CliRunner().invoke(main, ["check", "d"])
    assert result.exit_code == 2
    assert "d/waivers.toml is larger than 256 kB; a file of waivers is not" in result.output
