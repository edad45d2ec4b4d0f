"""`backmark serve-editor`: asked by a client of the protocol over the process's streams."""

import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from lsp_client import Client

from translator.commands import main
from translator.editor.columns import Columns, Spot
from translator.editor.completion import offers_after
from translator.editor.hover import both_units, hover_text
from translator.editor.look import look_at
from translator.editor.outline import outline
from translator.editor.tidy import tidied
from translator.source import Source

pytest.importorskip("pygls", reason="the language server needs pygls (the extra `editor`)")

SAMPLES = Path(__file__).parent.parent / "samples"

CLIP = """\
units inch
order "TQ-7"   drawing "E-101"
grade A36

part C12 "clip \U0001d11e" { quantity 2 # \U0001d11e
  section  L4x3-1/2x3/8
  length   2 * 1-1/4 + 3 * 3
  leg a { holes 13/16  gauge 2-1/2  at 1-1/4, 3 @ 3 }
  leg b { slots 13/16 x 1 across leg  gauge 2  at 1-1/4 }
  waive hole-in-fillet on leg b slot 1 "RFI 17" by "QA"
}
"""


@pytest.fixture(scope="module")
def client():
    made = Client()
    yield made
    assert made.close() == 0


@pytest.fixture
def uri(tmp_path):
    return (tmp_path / "clip.bmk").as_uri()


def spot(text, piece, shift=0):
    """Return line and UTF-16 column, both from 0, where a piece of a text begins."""
    before = text[: text.index(piece) + shift]
    line = before.rpartition("\n")[2]
    return before.count("\n"), len(line.encode("utf-16-le")) // 2


def test_what_the_server_offers(client):
    able = client.hello["capabilities"]
    assert able["positionEncoding"] == "utf-16"
    assert able["hoverProvider"]
    assert able["documentSymbolProvider"]
    assert able["documentFormattingProvider"]
    assert "completionProvider" in able
    assert client.hello["serverInfo"]["name"] == "backmark"


def test_faults_are_those_of_check(client, tmp_path):
    text = (SAMPLES / "faulty" / "hole-in-fillet.bmk").read_text(encoding="utf-8")
    path = tmp_path / "x.bmk"
    path.write_text(text, encoding="utf-8")
    report = CliRunner().invoke(main, ["check", "--format", "json", str(path)]).stdout
    wanted = {(f["rule"], f["line"], f["column"]) for f in json.loads(report)["findings"]}
    told = client.open(path.as_uri(), text)["diagnostics"]
    starts = [(d["code"], d["range"]["start"]) for d in told]
    assert {(rule, at["line"] + 1, at["character"] + 1) for rule, at in starts} == wanted
    assert "hole-in-fillet" in {rule for rule, _ in starts}
    assert {d["source"] for d in told} == {"backmark"}


def test_faults_follow_what_is_typed(client, uri):
    assert [d for d in client.open(uri, CLIP)["diagnostics"] if d["severity"] < 3] == []
    wrong = client.change(uri, CLIP.replace("quantity", "quanttiy"), 2)
    assert wrong["version"] == 2
    (fault,) = [d for d in wrong["diagnostics"] if d["severity"] == 1]
    assert "did you mean `quantity`" in fault["message"]
    assert fault["code"] == "syntax"
    client.tell("textDocument/didClose", textDocument={"uri": uri})
    assert client.diagnostics()["diagnostics"] == []


def test_a_place_behind_a_sign_of_two_units(client, uri):
    text = CLIP.replace("quantity 2", "quanttiy 2")
    (fault,) = [d for d in client.open(uri, text)["diagnostics"] if d["severity"] == 1]
    line, column = spot(text, "quanttiy")
    assert column == text.splitlines()[line].index("quanttiy") + 1
    assert fault["range"] == {
        "start": {"line": line, "character": column},
        "end": {"line": line, "character": column + 8},
    }


@pytest.mark.parametrize(("encoding", "further"), [("utf-8", 3), ("utf-32", 0)])
def test_places_in_other_units(tmp_path, encoding, further):
    own = Client(encodings=[encoding])
    assert own.hello["capabilities"]["positionEncoding"] == encoding
    text = CLIP.replace("quantity 2", "quanttiy 2")
    told = own.open((tmp_path / "x.bmk").as_uri(), text)["diagnostics"]
    (fault,) = [d for d in told if d["severity"] == 1]
    plain = text.splitlines()[4].index("quanttiy")
    assert fault["range"]["start"] == {"line": 4, "character": plain + further}
    assert own.close() == 0


def test_a_waived_fault_is_a_hint_with_its_reason(client, uri):
    text = CLIP.replace("gauge 2 ", "gauge 1 ")
    told = client.open(uri, text)["diagnostics"]
    (waived,) = [d for d in told if d["code"] == "hole-in-fillet"]
    assert waived["severity"] == 4
    assert waived["message"].endswith("(waived: RFI 17 (by QA))")


@pytest.mark.parametrize(
    ("piece", "shift", "wanted"),
    [
        pytest.param("2-1/2", 1, "`2-1/2`: as a length 63.5 mm = 2-1/2 in.", id="number"),
        pytest.param("2 * 1", 2, "", id="operator"),
        pytest.param(
            "1-1/4 + 3", 0, "`2 * 1-1/4 + 3 * 3`: as a length 292.1 mm = 11-1/2 in.", id="sum"
        ),
        pytest.param(
            "1-1/4, 3",
            0,
            "- **a1**: hole 20.6375 mm = 13/16 in., x 31.75 mm = 1-1/4 in., y 63.5 mm = 2-1/2 in.",
            id="feature",
        ),
        pytest.param("hole-in-fillet", 3, "**hole-in-fillet** (warning): ", id="rule"),
        pytest.param("leg a", 0, "", id="keyword"),
    ],
)
def test_what_a_word_comes_to(client, uri, piece, shift, wanted):
    client.open(uri, CLIP)
    told = client.at("hover", uri, *spot(CLIP, piece, shift))
    if not wanted:
        assert told is None
        return
    assert told["contents"]["kind"] == "markdown"
    assert wanted in told["contents"]["value"]


def test_a_fault_is_explained_where_it_stands(client, uri):
    text = CLIP.replace("gauge 2-1/2", "gauge 1/2")
    client.open(uri, text)
    told = client.at("hover", uri, *spot(text, "1-1/4, 3 @"))["contents"]["value"]
    assert "**hole-in-fillet**" in told


def test_lengths_in_both_units():
    assert both_units(292.1) == "292.1 mm = 11-1/2 in."
    assert both_units(2857.5) == "2857.5 mm = 112-1/2 in. = 9'-4 1/2\""
    assert both_units(100.0) == "100 mm \u2248 3.9370 in."


def test_the_outline(client, uri):
    text = CLIP + "family clip(rows, pitch = 3) { leg a { holes 18 gauge 50 at 40 } }\n"
    client.open(uri, text)
    part, family = client.of("documentSymbol", uri)
    assert part["name"] == "C12"
    assert part["detail"] == "clip \U0001d11e, L4x3-1/2x3/8"
    assert [leg["name"] for leg in part["children"]] == ["leg a", "leg b"]
    assert [leg["detail"] for leg in part["children"]] == ["holes", "slots"]
    assert part["range"]["start"] == {"line": 4, "character": 0}
    assert part["range"]["end"] == {"line": 10, "character": 1}
    assert (family["name"], family["detail"]) == ("clip", "rows, pitch")


@pytest.mark.parametrize(
    ("typed", "wanted", "unwanted"),
    [
        pytest.param("", {"part", "units", "family"}, {"section", "holes"}, id="file"),
        pytest.param("part P {\n  sec", {"section", "length"}, {"units"}, id="part"),
        pytest.param("part P {\n leg a {\n", {"hole", "slot", "stamp"}, {"section"}, id="leg"),
        pytest.param(
            "part P {\n leg a { holes 18 ", {"gauge", "at", "bolt"}, {"section"}, id="clause"
        ),
        pytest.param("part P {\n section L4x3-1/", {"L4x3-1/2x3/8"}, {"leg"}, id="section"),
        pytest.param("part P {\n leg a { holes bolt ", {"M20", "3/4"}, {"gauge"}, id="bolt"),
        pytest.param("part P {\n waive hole-", {"hole-in-fillet"}, {"on"}, id="rule"),
        pytest.param("part P {\n quanttiy 4\n", {"section"}, {"units"}, id="behind-a-fault"),
        pytest.param("part P {\n # sec", set(), {"section"}, id="comment"),
        pytest.param('part P "sec', set(), {"section"}, id="text"),
    ],
)
def test_what_may_stand_next(client, uri, typed, wanted, unwanted):
    text = f"units inch\n{typed}"
    client.open(uri, text)
    line, column = spot(text + "\0", "\0")
    found = client.at("completion", uri, line, column)["items"]
    words = {item["label"] for item in found}
    assert wanted <= words
    assert not unwanted & words
    begun = len(typed.split()[-1]) if typed and not typed[-1].isspace() else 0
    for item in found:
        assert item["textEdit"]["range"]["start"] == {"line": line, "character": column - begun}
        assert item["textEdit"]["newText"] == item["label"]


def test_the_layout(client, uri):
    client.open(uri, CLIP)
    options = {"tabSize": 2, "insertSpaces": True}
    (edit,) = client.of("formatting", uri, options=options)
    assert edit["range"]["start"] == {"line": 0, "character": 0}
    assert edit["range"]["end"] == {"line": CLIP.count("\n"), "character": 0}
    new = edit["newText"]
    assert new.encode() == tidied(Source(path="x.bmk", data=CLIP.encode())).data
    client.change(uri, new, 2)
    assert client.of("formatting", uri, options=options) == []
    client.change(uri, "part {", 3)
    assert client.of("formatting", uri, options=options) is None
    assert "faults" in client.told("window/showMessage")["message"]


def test_a_text_that_is_not_saved_anywhere(client):
    told = client.open("untitled:Untitled-1", "part {")
    assert "syntax" in {d["code"] for d in told["diagnostics"]}


def test_the_settings_of_the_folder_hold(client, tmp_path):
    (tmp_path / "backmark.toml").write_text('[severities]\nhole-in-fillet = "note"\n', "utf-8")
    text = CLIP.replace("gauge 2-1/2", "gauge 1")
    told = client.open((tmp_path / "x.bmk").as_uri(), text)["diagnostics"]
    weights = {
        d["severity"] for d in told if d["code"] == "hole-in-fillet" and "a1" in d["message"]
    }
    assert weights == {3}


def test_a_file_that_is_used(client, tmp_path):
    used, own = tmp_path / "families.bmk", tmp_path / "own.bmk"
    used.write_text(
        "units mm\nfamily f(g) { section L90x90x10 length 300 leg a { holes 22 gauge g at 150 } }",
        "utf-8",
    )
    text = 'units mm\nuse "families.bmk"\ngrade S275JR\npart P = f(g = 28) { }\n'
    told = client.open(own.as_uri(), text)["diagnostics"]
    (fault,) = [d for d in told if d["code"] == "hole-in-fillet"]
    assert fault["range"]["start"]["line"] == 3
    assert used.as_uri() in {r["location"]["uri"] for r in fault["relatedInformation"]}
    used.write_text("nonsense", "utf-8")
    client.tell("textDocument/didSave", textDocument={"uri": used.as_uri()})
    while (again := client.diagnostics())["uri"] != own.as_uri():
        pass
    assert "hole-in-fillet" not in {d["code"] for d in again["diagnostics"]}
    assert [d for d in again["diagnostics"] if d["severity"] == 1]


HOSTILE = [
    "",
    "\ufeffunits mm",
    "\0",
    "\ud800",
    "part " * 50,
    "{" * 200,
    "part P { length " + "(" * 90,
]


@pytest.mark.parametrize("text", HOSTILE, ids=ascii)
def test_any_text_is_answered(client, uri, text):
    client.open(uri, text)
    client.at("hover", uri, 0, 3)
    client.at("hover", uri, 99, 99)
    client.at("completion", uri, 0, 99)
    client.of("documentSymbol", uri)
    client.of("formatting", uri, options={"tabSize": 2, "insertSpaces": True})


def test_every_beginning_of_a_sample_is_answered():
    text = (SAMPLES / "tern-quay" / "clips.bmk").read_text(encoding="utf-8")
    for end in range(0, len(text), 37):
        look = look_at("x.bmk", text[:end])
        outline(look.tree)
        hover_text(look, text[:end].count("\n") + 1, 4)
        offers_after(text[:end])


@given(st.text(st.characters(codec="utf-8"), max_size=30), st.integers(0, 40))
def test_columns_count_as_utf_16_does(text, column):
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    columns = Columns(text)
    character = min(column, len(lines[0]))
    units = len(lines[0][:character].encode("utf-16-le")) // 2
    assert columns.spot(1, character + 1) == Spot(0, units)
    assert columns.place(Spot(0, units)) == (1, character + 1)
    assert columns.end == Spot(len(lines) - 1, len(lines[-1].encode("utf-16-le")) // 2)


def test_without_its_library_the_command_says_so(monkeypatch):
    monkeypatch.setitem(sys.modules, "pygls.lsp.server", None)
    done = CliRunner().invoke(main, ["serve-editor"])
    assert done.exit_code == 2
    assert "pip install pygls" in done.stderr
