"""`backmark format`: one layout, the same words, the same parts."""

import gc
import os
import stat
from itertools import pairwise
from pathlib import Path
from random import Random
from time import process_time

import pytest
from bmk_reading import printed, read
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from strategies import parts

from translator.commands import main
from translator.editor import tidy
from translator.editor.tidy import tidied
from translator.errors import WorkError
from translator.source import Source
from translator.syntax._format_lines import WIDTH
from translator.syntax.format import formatted
from translator.syntax.parser import parse_text
from translator.syntax.tree import Word

ROOT = Path(__file__).parent.parent
SAMPLES = sorted((ROOT / "samples").rglob("*.bmk"))
PAGE = (ROOT / "grammar" / "README.md").read_text(encoding="utf-8")
EXAMPLES = [piece.split("```")[0] for piece in PAGE.split("```bmk\n")[1:]]


def tree_of(text):
    return parse_text(Source(path="x.bmk", data=text.encode()))


def laid(text):
    """Lay out a text without faults, and see that a second time changes nothing."""
    tree = tree_of(text)
    assert tree.faults == ()
    once = formatted(tree)
    assert formatted(tree_of(once)) == once
    return once


STATEMENTS = {
    "blanks": ("holes  13/16 gauge\t2-1/2   at 1,2", "holes 13/16  gauge 2-1/2  at 1, 2"),
    "large words": ("HOLES 13/16 Gauge 2 AT 3", "holes 13/16  gauge 2  at 3"),
    "own words stay": ("hole 13/16 gage 2 at 3", "hole 13/16  gage 2  at 3"),
    "repeats": ("holes 18 gauge 50 at 40,3@70=210", "holes 18  gauge 50  at 40, 3 @ 70 = 210"),
    "blanks in a figure": ("hole 1 gauge 1'-0   1/2\" at 3", "hole 1  gauge 1'-0 1/2\"  at 3"),
    "spellings of numbers": (
        "holes 22.50 gauge 2½ at 1 1/4, 292.1mm, 12'",
        "holes 22.50  gauge 2½  at 1 1/4, 292.1mm, 12'",
    ),
    "options behind positions": (
        "holes 18 gauge 75 at 40,110 from far drill only id x7",
        "holes 18  gauge 75  at 40, 110 from far  drill only id x7",
    ),
    "options before positions": (
        "slots 22x40 bolt M20 along leg gauge 60 spaces 200,60 total 260",
        "slots 22 x 40 bolt M20 along leg  gauge 60  spaces 200, 60 total 260",
    ),
    "sums": (
        "holes 18 gauge 5 + 2*(3+ -1)/4 at (4 - 1)@3",
        "holes 18  gauge 5 + 2 * (3 + -1) / 4  at (4 - 1) @ 3",
    ),
    "division is no fraction": ("holes 18 gauge 3 /  4 at 1", "holes 18  gauge 3 / 4  at 1"),
    "diameter sign": ("hole Ø 20 gauge 12 at 50 vent", "hole Ø20  gauge 12  at 50  vent"),
    "points": ("scribe from 60, 40 to 100 ,40", "scribe from 60,40 to 100,40"),
    "points with blanks": ("scribe from 1 1/4,2 to 3,2+1", "scribe from 1 1/4, 2 to 3, 2 + 1"),
    "bulges": ("scribe from 3,6 bulge - 1 to 4,6", "scribe from 3,6 bulge -1 to 4,6"),
    "angles": ("slots 18x38 at - 45  deg at 3", "slots 18 x 38 at -45 deg  at 3"),
    "texts stay": ('stamp  "a  b" at 5', 'stamp "a  b" at 5'),
    "curly quotes stay": ("stamp  \u201ca b\u201d at 5", "stamp \u201ca b\u201d at 5"),
    "an odd pair of quotes": ('stamp "a\u201d at 5', 'stamp "a" at 5'),
    "a commented comma": (
        "holes 18 gauge 5 at 1 # one\n, 2",
        "holes 18  gauge 5  at 1,\n        # one\n        2",
    ),
    "comments in a list": (
        "holes 18 gauge 5 at 1, # one\n\n  # two\n 2 # three",
        "holes 18  gauge 5  at 1,  # one\n        # two\n        2  # three",
    ),
    "feet that would swallow a minus": (
        "holes 18 gauge 5 at 12'\n - 3, 13'",
        "holes 18  gauge 5  at 12'\n        - 3, 13'",
    ),
    "two statements on a line": ("hole 1 at 2  hole 2 at 3", "hole 1  at 2   hole 2  at 3"),
}


@pytest.mark.parametrize(("typed", "wanted"), STATEMENTS.values(), ids=STATEMENTS)
def test_a_statement_is_set(typed, wanted):
    text = laid(f"part P1 {{\nleg a {{\n{typed}\n}}\n}}\n")
    assert text == f"part P1 {{\n  leg a {{\n    {wanted}\n  }}\n}}\n"


FILES = {
    "nothing": ("", ""),
    "blank lines only": ("\n\n  \n", ""),
    "comments only": ("\n# a  \n\n\n\n#b", "# a\n\n#b\n"),
    "settings on a line": (
        "order X drawing  Y\n\n\n\nunits mm",
        "order X   drawing Y\n\nunits mm\n",
    ),
    "a block on one line": ("part P{length 3}", "part P { length 3 }\n"),
    "an empty block": ("part P {\n\n}", "part P { }\n"),
    "a blank line around blocks": (
        "units mm\npart P {\nlength 3\n}\ngrade X",
        "units mm\n\npart P {\n  length   3\n}\n\ngrade X\n",
    ),
    "values below each other": (
        "part P {\n\n\nsection L4x4x3/8\nlength 3\nqty 4 # few\n\n}",
        "part P {\n  section  L4x4x3/8\n  length   3\n  qty      4  # few\n}\n",
    ),
    "columns": (
        "face {\nholes 1 gauge 2 at 3\nholes 13/16 gauge 2-1/2 at 3\n}",
        "face {\n    holes 1      gauge 2      at 3\n    holes 13/16  gauge 2-1/2  at 3\n  }",
    ),
    "columns of trims": (
        "face {\nclip start toe 1 x 2\nclip far toe 1 x 2\n}",
        "face {\n    clip start toe 1 x 2\n    clip far   toe 1 x 2\n  }",
    ),
    "comments below each other": (
        "part P {\nlength 3#a\nquantity 44 # b\n}",
        "part P {\n  length   3   #a\n  quantity 44  # b\n}\n",
    ),
    "comments of a head": (
        "part P # a\n# b\n{ # c\nlength 3 }# d\n# e",
        "part P {\n  # a\n  # b\n  # c\n  length   3\n}  # d\n# e\n",
    ),
    "a family": (
        "family clip(rows,pitch=3){\nlength 2*1-1/4+(rows - 1)*pitch\n}",
        "family clip(rows, pitch = 3) {\n  length   2 * 1-1/4 + (rows - 1) * pitch\n}\n",
    ),
    "calls": ("part C=clip( rows=5 ) {quantity 8}", "part C = clip(rows = 5) { quantity 8 }\n"),
    "calls below each other": (
        'part C = f() { }\npart D "two" = f(n = 3) { phase 1 lot 2 }',
        'part C       = f() { }\npart D "two" = f(n = 3) { phase 1   lot 2 }\n',
    ),
    "blocks below each other": (
        "leg a { holes 1 gauge 22 at 3 }\nleg b { holes 1 gauge 2 at 3 }",
        "leg a { holes 1  gauge 22  at 3 }\n  leg b { holes 1  gauge 2   at 3 }",
    ),
    "both legs at once": ("both legs{holes 1 at 3}", "both legs { holes 1  at 3 }"),
    "the other hand": ("part D  opposite C{}", "part D opposite C { }\n"),
    "waivers": (
        f'waive {"rule-" * 9}x on leg a hole 1 at 24 "RFI 17" by "QA"   until revision "C"',
        f'waive {"rule-" * 9}x on leg a hole 1 at 24 "RFI 17" by "QA"\n      until revision "C"',
    ),
    "a section size by size": (
        "section  angle leg a 90 leg b 75 thickness 7.5 root 9",
        "section  angle leg a 90 leg b 75 thickness 7.5 root 9",
    ),
}
_OF_A_PART = ("face", "leg", "both", "waive", "section")


@pytest.mark.parametrize(("typed", "wanted"), FILES.values(), ids=FILES)
def test_a_file_is_set(typed, wanted):
    if typed.startswith(_OF_A_PART):
        typed, wanted = f"part P {{\n{typed}\n}}", f"part P {{\n  {wanted}\n}}\n"
    assert laid(typed) == wanted


def test_a_long_list_goes_on_in_further_lines():
    listed = ", ".join(str(n) for n in range(1, 120))
    text = laid(f"part P {{ leg a {{ holes 18 gauge 5 at {listed} }} }}")
    lines = text.splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert [line for line in lines if line.startswith("        ")] == lines[3:-2]
    assert " ".join(text.split()) == (f"part P {{ leg a {{ holes 18 gauge 5 at {listed} }} }}")


def test_a_tree_with_faults_is_refused():
    with pytest.raises(ValueError, match="faults"):
        formatted(tree_of("part {"))


@pytest.mark.parametrize(
    "text",
    [pytest.param(p.read_text(encoding="utf-8"), id=p.stem) for p in SAMPLES] + EXAMPLES,
    ids=lambda text: text.splitlines()[1],
)
def test_samples_and_examples_stay_the_same_parts(text):
    result = tidied(Source(path="shop/x.bmk", data=text.encode()))
    if result.data is None:
        assert {f.rule for f in result.faults} == {"syntax"}
        return
    new = result.data.decode()
    assert [p.part for p in read(new).parts] == [p.part for p in read(text).parts]
    assert [c.text for c in tree_of(new).comments] == [c.text for c in tree_of(text).comments]
    assert laid(new) == new


# ---------------------------------------------------------------- any layout, the same text

RAW = ("BARE", "MARK_TEXT", "SECTION_TEXT", "BOLT_SIZE", "RULE_NAME", "DATE")
BLANKS = [" ", "  ", "\t", " \u00a0 "]
BREAKS = [
    "\n",
    "\r\n",
    "\n\n\n",
    "\n\t",
    " # a comment\n",
    "#\n",
    '\n# "quoted" { x\n\n',
    "#a\n  #b\n",
]


def words_of(node):
    for child in node.children:
        if isinstance(child, Word):
            yield child
        else:
            yield from words_of(child)


@st.composite
def shaken(draw, text, *, breaks):
    """Draw a text of the same words with other blanks, line ends and comments between them."""
    # One draw a text, not one a gap: hundreds of draws would be the slowest part by far.
    choice = Random(draw(st.integers(0, 2**32)))
    told, before = [choice.choice(BREAKS) if breaks else ""], None
    for word in words_of(tree_of(text).root):
        told.append("" if before is None else choice.choice(gaps(before, word, breaks=breaks)))
        told.append(word.text)
        before = word
    return "".join(told) + "\n"


def gaps(before, word, *, breaks):
    if not breaks and word.line > before.line:
        return [f"\n{blank}" for blank in BLANKS]
    blanks = [""] if before.extent[2:] == (word.line, word.column) else BLANKS
    is_explicit = (before.type, word.type) in (("ANGLE", "LEG"), ("FLAT", "WIDTH"))
    if word.type in RAW or is_explicit or not breaks:
        return blanks
    return BREAKS if before.type == "SECTION_TEXT" else [*blanks * 4, *BREAKS]


QUICK = settings(
    max_examples=30,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


@QUICK
@given(st.data())
def test_however_it_was_typed_the_parts_and_comments_stay(data):
    piece = data.draw(parts())
    typed = data.draw(shaken(printed(piece), breaks=True))
    assert [p.part for p in read(typed).parts] == [piece]
    new = tidied(Source(path="x.bmk", data=typed.encode())).data.decode()
    assert [p.part for p in read(new).parts] == [piece]
    assert sorted(c.text.rstrip() for c in tree_of(new).comments) == sorted(
        c.text.rstrip() for c in tree_of(typed).comments
    )
    assert laid(new).replace("\n", "\r\n" if "\r" in new else "\n") == new


@QUICK
@given(st.data())
def test_blanks_alone_make_no_difference(data):
    text = printed(data.draw(parts()))
    assert laid(data.draw(shaken(text, breaks=False))) == laid(text)


@QUICK
@given(parts())
def test_the_text_is_tidy(piece):
    lines = laid(printed(piece)).split("\n")
    assert lines.pop() == ""
    assert all(line == line.rstrip() for line in lines)
    assert all((len(line) - len(line.lstrip(" "))) % 2 == 0 for line in lines)
    assert not any(a == b == "" for a, b in pairwise(lines))


# ---------------------------------------------------------------- bytes


def test_line_ends_of_the_file_are_kept():
    data = tidied(Source(path="x.bmk", data=b"units  mm\r\n\r\n\r\norder X\n")).data
    assert data == b"units mm\r\n\r\norder X\r\n"


def test_bytes_that_are_no_utf8_stay_the_bytes_they_were():
    typed = 'order  "Stütze €"'.encode("cp1252") + b" # \x81\n"
    result = tidied(Source(path="x.bmk", data=typed))
    assert result.data == typed.replace(b"  ", b" ").replace(b'" #', b'"  #')


@pytest.mark.parametrize("data", [b"\0", b"part {", b"part P { length 11 - 1/2 }"], ids=str)
def test_text_with_faults_is_left_alone(data):
    result = tidied(Source(path="x.bmk", data=data))
    assert result.data is None
    assert {f.rule for f in result.faults} == {"syntax"}


@pytest.mark.parametrize(
    "wrong",
    [
        "units mm\npart P { section FB100x10 length 31 }\n",
        "units mm\n",
        "part {",
        "# x\nunits mm\n",
    ],
)
def test_a_layout_that_would_change_something_is_never_handed_on(monkeypatch, wrong):
    monkeypatch.setattr(tidy, "formatted", lambda _: wrong)
    source = Source(path="x.bmk", data=b"units mm\npart P { section FB100x10 length 30 }")
    with pytest.raises(WorkError, match="left as it is"):
        tidied(source)


# ---------------------------------------------------------------- the command


def run(*args, given=None):
    return CliRunner().invoke(main, ["format", *map(str, args)], input=given)


UNTIDY, TIDY = "units  mm\n\n\n\n# end\n", "units mm\n\n# end\n"


def test_a_folder_is_set_anew_and_then_stays(tmp_path):
    (tmp_path / "deep").mkdir()
    one, two = tmp_path / "one.bmk", tmp_path / "deep" / "two.BMK"
    other = tmp_path / "notes.txt"
    for path in (one, two, other):
        path.write_text(UNTIDY, encoding="utf-8")
    first = run(tmp_path)
    assert (first.exit_code, first.stdout) == (0, "")
    assert [p.read_text(encoding="utf-8") for p in (one, two, other)] == [TIDY, TIDY, UNTIDY]
    assert sorted(p.name for p in tmp_path.rglob("*")) == [
        "deep",
        "notes.txt",
        "one.bmk",
        "two.BMK",
    ]
    again = run(tmp_path)
    assert (again.exit_code, again.output) == (0, "")


def test_check_tells_and_writes_nothing(tmp_path):
    path = tmp_path / "one.bmk"
    path.write_text(UNTIDY, encoding="utf-8")
    done = run("--check", tmp_path)
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr == f"would be set anew: {path.as_posix()}\n"
    assert path.read_text(encoding="utf-8") == UNTIDY
    path.write_text(TIDY, encoding="utf-8")
    assert run("--check", tmp_path).exit_code == 0


def test_diff_shows_and_writes_nothing(tmp_path):
    path = tmp_path / "one.bmk"
    path.write_text("units  mm\n# \x1b[2J\n", encoding="utf-8")
    done = run("--diff", path)
    assert done.exit_code == 0
    assert done.stdout.splitlines()[3:] == ["-units  mm", "+units mm", " # \\x1b[2J", " "]
    assert path.read_text(encoding="utf-8").startswith("units  mm")
    assert run("--diff", "--check", path).exit_code == 1


def test_a_file_with_faults_is_told_and_not_touched(tmp_path):
    bad, good = tmp_path / "bad.bmk", tmp_path / "good.bmk"
    bad.write_text("units  mm\nquanttiy 4\n", encoding="utf-8")
    good.write_text(UNTIDY, encoding="utf-8")
    done = run(tmp_path)
    assert done.exit_code == 1
    assert "bad.bmk:2:1: error: `quanttiy`" in done.stderr
    assert bad.read_text(encoding="utf-8") == "units  mm\nquanttiy 4\n"
    assert good.read_text(encoding="utf-8") == TIDY


def test_a_file_that_is_no_part_text_is_refused(tmp_path):
    path = tmp_path / "C12.nc1"
    path.write_text("ST\n", encoding="utf-8")
    done = run(path)
    assert done.exit_code == 2
    assert "C12.nc1" in done.stderr
    assert path.read_text(encoding="utf-8") == "ST\n"


def test_standard_input_goes_to_the_output():
    done = run("-", given=UNTIDY)
    assert (done.exit_code, done.stdout) == (0, TIDY)
    bad = run("-", given="part {")
    assert (bad.exit_code, bad.stdout) == (1, "")
    assert run("-", "--check", given=UNTIDY).exit_code == 1


@pytest.mark.skipif(os.name == "nt", reason="permissions of that kind are not Windows'")
def test_permissions_and_links_are_kept(tmp_path):
    path, link = tmp_path / "one.bmk", tmp_path / "link.bmk"
    path.write_text(UNTIDY, encoding="utf-8")
    path.chmod(0o600)
    link.symlink_to(path)
    assert run(link).exit_code == 0
    assert link.is_symlink()
    assert path.read_text(encoding="utf-8") == TIDY
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_the_nodes_it_knows_are_those_of_the_grammar():
    from translator.syntax import _format_words as words
    from translator.syntax.building import grammar_text

    rules = {line.split(":")[0].lstrip("?_") for line in grammar_text().splitlines() if ":" in line}
    known = words._CLAUSES | words._LISTS | words._DRAWN | words._PLACING | words._OF_PLACING
    known |= words._TRIMS | words._SIGNED | words._PLACES
    aliases = {"group", "negative"}
    assert known - rules - aliases == set()


def test_a_long_sum_takes_no_longer_than_its_length():
    def seconds(terms):
        tree = tree_of(f"units mm\npart P {{ length {' + '.join('1' * terms)} }}")
        # The collector would walk all that earlier tests left behind, which is not our cost.
        gc.disable()
        try:
            begin = process_time()
            formatted(tree)
            return process_time() - begin
        finally:
            gc.enable()

    seconds(500)
    # Eight times the words; a cost that grows with their square would be 64 times.
    assert seconds(8000) < 24 * seconds(1000) + 0.1
