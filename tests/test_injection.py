"""Nothing that a part file, a file name or a folder's name holds takes hold of what is made of it.

One delivery whose every text and every name is hostile goes through all commands, found by
walking, in all their formats. What comes out is held by its kind, beside the same delivery with
plain words: no control or turned writing on a terminal, no tag, handler or script in a page, no
formula in a table, no code in a drawing, no command in a log.
"""

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from translator.commands import main
from translator.emitters import emitters
from translator.reports import reports

SAMPLES = Path(__file__).parent.parent / "samples"
LINE = SAMPLES / "machines" / "punch-and-drill-line.machine.json"

MARKUP = "\"'><img src=x onerror=alert(1)></script><script>alert(2)</script>&lt;--><!--]]>"
CODES = "%%c%%065%%u\\U+0041\\P{\\C1;x}^J;*^M"
LOG = "::error file=a::b%0A::warning::c##[error]d"
TURNED = "\u202egnp\u2066x\u200b\u2028y\ufeff"
RAW = "\x1b[2J\x07\r\n::error::e\r\n\x9b31m\x00"
FORMULAS = ('=HYPERLINK("http://x";"y")', "+1+1", "@SUM(A1)", "-2+3", "\uff1d1", "\t=1", "'=1")
ALL_SEEN = f"{MARKUP}{CODES}{LOG}{TURNED}"
"""Everything that a text of the model may hold; control characters it refuses."""

NAMES = (f"a{ALL_SEEN[:60]}{TURNED}".replace("/", "|"), "=1+1", "b\x1b[2J\n::error::c")
"""File and folder names."""


def _part(mark, text, **more):
    hole = {"kind": "hole", "x_mm": 50.0, "y_mm": 50.0, "diameter_mm": 20.6375}
    stamp = {
        "kind": "stamp", "text": text[:40], "x_mm": 90.0, "from_heel_mm": 40.0, "height_mm": 10.0,
    }  # fmt: skip
    part = {
        "mark": mark,
        "quantity": 2,
        "grade": "A36",
        "length_mm": 304.8,
        "section": {"kind": "flat", "designation": "FB4x3/8", "width_mm": 101.6,
                    "thickness_mm": 9.525},
        "legs": {"face": {"features": [hole, stamp], "trims": []}},
        "units": "inch",
        **dict.fromkeys(("title", "order", "drawing", "revision", "phase", "lot", "finish"), text),
        "remarks": [text],
        "second_work": [text],
        "carried": [text],
        "waivers": [{"rule": "edge-distance-short", "reason": text, "by": text}],
        **more,
    }  # fmt: skip
    return json.dumps({"format": "backmark/part", "version": "1.0", "part": part}).encode()


def delivery(top, *, is_hostile):
    """Write the delivery, hostile or plain; return its folder."""
    names = NAMES if is_hostile else ("a", "b", "c")
    folder = top / names[0]
    (folder / names[1]).mkdir(parents=True)
    texts = [ALL_SEEN, *FORMULAS] if is_hostile else ["plain"] * (1 + len(FORMULAS))
    for number, text in enumerate(texts):
        own = text.replace("\t", "")
        mark = f"{own}{number}" if is_hostile else f"P{number}"
        path = folder / names[1] / f"{names[2]}{number}.part.json"
        path.write_bytes(_part(mark[:150], own))
    bad = RAW if is_hostile else "?"
    (folder / f"{names[2]}.part.json").write_bytes(_part(f"X{bad}", bad, grade=bad))
    raw = (RAW.replace("\0", "") + ALL_SEEN if is_hostile else "word").encode()
    (folder / f"{names[2]}.bmk").write_bytes(b"part Q1 { length " + raw + b" }\n# " + raw)
    example = (SAMPLES / "tern-quay" / "detailer" / "F55.nc1").read_bytes()
    (folder / f"{names[2]}.nc1").write_bytes(example.replace(b"F55", b"F55" + raw[:40]))
    (folder / f"{names[2]}.txt").write_bytes(b"")
    return folder


# ------------------------------------------------------------------ what must hold, by kind

UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff]"
)


CONTROLS = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f]")
"""What part text and NC files must not hold; else they keep the words of a part as they are."""


def check_terminal(text, plain):
    assert UNSEEN.findall(text) == []
    assert not re.search(r"(?m)^(::|##\[)", text)
    assert plain


COMMAND = re.compile(r"::(error|warning|notice) (\w+=[^,:\r\n]*,?)+::[^\r\n]*")


def check_github(text, plain):
    """Each line that a log takes for a command is one of ours, its properties closed."""
    assert UNSEEN.findall(text) == []
    lines = [line for line in text.split("\n") if line.lstrip().startswith(("::", "##["))]
    assert all(COMMAND.fullmatch(line) for line in lines)
    assert lines
    assert plain


class _Tags(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.tags = set()
        self.attributes = set()
        self.scripts = []
        self.inside = False

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        self.attributes |= {(tag, name) for name, _ in attrs}
        for name, value in attrs:
            assert not name.startswith("on"), (tag, name)
            if name in ("href", "src", "action", "formaction", "xlink:href"):
                assert re.match(r"(#|https?://|mailto:|data:image/|[\w./-]+$)", value or "#"), value
        self.inside = tag == "script"
        if self.inside:
            self.scripts.append("")

    def handle_endtag(self, tag):
        self.inside = self.inside and tag != "script"

    def handle_data(self, data):
        if self.inside:
            self.scripts[-1] += data


@cache
def _tags(text):
    parser = _Tags()
    parser.feed(text)
    parser.close()
    return parser


DRAWN = {"a", "li", "ul", "g", "text", "tspan", "path", "line", "rect", "circle", "polygon"}
"""What one page may draw or list and the other need not, for one part more or less."""


def check_html(text, plain):
    own, other = _tags(text), _tags(plain)
    assert own.tags <= other.tags | DRAWN
    assert not own.tags & {"img", "iframe", "object", "embed", "base", "form", "link"}
    assert len(own.scripts) <= len(other.scripts)  # one for each part; one may be refused
    assert UNSEEN.findall(text) == []
    assert "<!--]]>" not in text


def check_xml(text, plain):
    own = {element.tag for element in ET.fromstring(text).iter()}  # noqa: S314 - our own
    other = {element.tag for element in ET.fromstring(plain).iter()}  # noqa: S314
    assert own <= other
    assert not [
        name
        for element in ET.fromstring(text).iter()  # noqa: S314
        for name in element.attrib
        if name.rpartition("}")[2].startswith("on")
    ]
    assert UNSEEN.findall(text) == []


def check_json(text, plain):
    json.loads(text)
    assert plain
    assert UNSEEN.findall(text) == []


def check_csv(text, plain):
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len({len(row) for row in rows}) == len(
        {len(row) for row in csv.reader(io.StringIO(plain, newline=""))}
    )
    for row in rows:
        for cell in row:
            is_number = re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", cell)
            assert is_number or not re.match(
                r"[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]", cell.lstrip(" ")
            )
            assert UNSEEN.findall(cell.replace("\r", "")) == []


def check_dxf(text, plain):
    """Pairs of a group code and a value; the drawing holds as many entities as the plain one."""
    kinds = []
    for one in (text, plain):
        lines = one.split("\n")
        assert lines.pop() == ""
        assert len(lines) % 2 == 0
        codes = [int(code) for code in lines[::2]]
        values = lines[1::2]
        assert all(UNSEEN.search(value.removesuffix("\r")) is None for value in values)
        kinds.append({v for c, v in zip(codes, values, strict=True) if c == 0})
        texts = [v for c, v in zip(codes, values, strict=True) if c in (1, 2, 3, 9)]
        assert not any("%%c%%065" in value or "\\U+0041" in value for value in texts)
    assert kinds[0] <= kinds[1]


def check_nc(text, plain):
    """One part: each block begins once, and nothing begins one that the plain part has not."""
    assert CONTROLS.findall(text.replace("\r\n", "\n")) == []
    heads = re.findall(r"(?m)^[A-Z]{2}\b", text)
    assert len(heads) == len(set(heads))
    assert heads[0] == "ST"
    assert heads[-1] == "EN"
    assert set(heads) <= {"ST", "BO", "SI", "EN"}
    assert plain


def check_bmk(text, plain):
    assert len(re.findall(r"(?m)^part ", text)) == len(re.findall(r"(?m)^part ", plain))
    assert CONTROLS.findall(text) == []


def check_pdf(text, plain):
    for word in ("/JavaScript", "/JS", "/OpenAction", "/Launch", "/AA", "/URI"):
        assert text.count(word) == plain.count(word)


CHECKS = {
    "terminal": check_terminal,
    "text": check_terminal,
    "txt": check_terminal,
    "github": check_github,
    "html": check_html,
    "svg": check_xml,
    "junit": check_xml,
    "json": check_json,
    "sarif": check_json,
    "csv": check_csv,
    "dxf": check_dxf,
    "nc1": check_nc,
    "bmk": check_bmk,
    "pdf": check_pdf,
}


# ------------------------------------------------------------------ the runs

GIVEN = {
    "check": ["{folder}", "--no-cache", "--jobs", "1", "--machine", LINE],
    "translate": ["{folder}", "--to", ",".join(e.name for e in emitters()), "--out", "made"],
    "show": ["{folder}", "{mark}"],
    "inspect": ["{folder}", "--out", "made"],
    "release": ["{sound}", "--to", "made", "--by", "{text}", "--name", "{text}"],
    "compare": ["{folder}", "{sound}"],
    "estimate": ["{folder}", "--machine", LINE],
    "setup": ["{folder}", "--machine", LINE],
    "plan": ["{folder}", "--machine", LINE, "--standard", "20'", "--out", "made"],
    "bars": ["plan/plan.json", "{folder}", "--machine", LINE, "--out", "made"],
    "program": ["plan/plan.json", "{folder}", "--machine", LINE, "--out", "made"],
    "rules": [],
    "serve-editor": ["--help"],
    "verify": ["{folder}"],
}
"""Command -> what it is given; another command is given the folder alone."""
AFTER_A_PLAN = ("bars", "program")
NAMES_OF_COMMANDS = main.list_commands(click.Context(main))


def formats(name):
    """Return the formats of a command's report."""
    command = main.get_command(click.Context(main), name)
    for option in command.params:
        if "--format" in option.opts:
            chosen = getattr(option.type, "choices", None)
            return [*chosen] if chosen else [*(r.name for r in reports()), "html"]
    return [""]


def given(name, folder, text):
    """Return the arguments of a command for one of the two deliveries."""
    sound = min(folder.rglob("*0.part.json"))
    mark = json.loads(sound.read_bytes())["part"]["mark"]
    words = {"folder": str(folder), "sound": str(sound), "mark": mark, "text": text}
    template = GIVEN.get(name, ["{folder}"])
    return [str(one).format(**words) if "{" in str(one) else str(one) for one in template]


def run(name, kind, top, *, is_hostile):
    """Run a command on one of the deliveries; return what came out: kind of output -> texts."""
    folder = delivery(top, is_hostile=is_hostile).relative_to(top)
    text = ALL_SEEN if is_hostile else "plain"
    runner = CliRunner()
    if name in AFTER_A_PLAN:
        plan = [str(folder), "--machine", str(LINE), "--standard", "20'", "--out", "plan"]
        runner.invoke(main, ["plan", *plan])
    arguments = [name, *given(name, folder, text), *(["--format", kind] if kind else [])]
    done = runner.invoke(main, arguments)
    assert "fault of this program" not in done.output
    assert done.exit_code in (0, 1, 2), done.output
    out = {kind or "terminal": [done.stdout], "terminal ": [done.stderr]}
    for path in sorted(Path("made").rglob("*")):
        if path.is_file() and "inputs" not in path.parts:
            suffix = path.suffix.lstrip(".")
            out.setdefault(suffix, []).append(path.read_bytes().decode("utf-8", "replace"))
        assert UNSEEN.search(path.name) is None
        assert not re.search(r"[<>:\"|?*\\\\]", path.name)
    return out


CASES = [(name, kind) for name in NAMES_OF_COMMANDS for kind in formats(name)]


@pytest.mark.parametrize(("name", "kind"), CASES, ids=lambda one: one or "plain")
def test_nothing_takes_hold_of_what_is_made(tmp_path, monkeypatch, name, kind):
    outputs = []
    for is_hostile in (True, False):
        top = tmp_path / ("hostile" if is_hostile else "plain")
        top.mkdir()
        monkeypatch.chdir(top)
        outputs.append(run(name, kind, top, is_hostile=is_hostile))
    hostile, plain = outputs
    for sort, texts in hostile.items():
        check = CHECKS.get(sort.strip())
        others = plain.get(sort, [""])
        for text in texts:
            if check is not None and text.strip():
                check(text, max(others, key=len) or "plain")


def test_the_commands_made_something_to_look_at(tmp_path, monkeypatch):
    """A run that is refused as a whole would prove nothing."""
    monkeypatch.chdir(tmp_path)
    out = run("translate", "", tmp_path, is_hostile=True)
    made = {sort for sort, texts in out.items() if any(texts)}
    assert {"json", "dxf", "svg", "bmk", "nc1"} <= made
    assert len(out["json"]) >= 8
    assert "::error file=a" in "".join(out["json"])  # the words themselves are kept
