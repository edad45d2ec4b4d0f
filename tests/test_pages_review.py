"""The review page as a file: what it holds, what it can't hold, the same bytes every time."""

import base64
import hashlib
import json
import os
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main
from translator.findings import CAUTION
from translator.pages._html import data_block, escaped
from translator.pages._places import targets

ROOT = Path(__file__).resolve().parent.parent
FAULTY = ROOT / "samples" / "faulty"
MACHINES = ROOT / "samples" / "machines"

WAIVED = """\
units mm
part W1 "two faults" {
  section L100x100x10   length 300   grade S355J2
  leg a { holes 22 gauge 24 at 50   holes 22 gauge 60 at 150, 310 }
  waive hole-in-fillet on leg a hole 1 "RFI 9: washer fits" by "QA"
}
"""


class Reader(HTMLParser):
    """Collects tags, attributes, texts and the blocks of data of a page."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.attributes, self.blocks, self.texts = [], [], {}, []
        self._open = None
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes += [(tag, name, value) for name, value in attrs]
        self._open = (tag, dict(attrs))

    def handle_data(self, data):
        tag, attributes = self._open or ("", {})
        if tag == "script" and attributes.get("type") == "application/json":
            self.blocks[attributes["id"]] = json.loads(data)
        elif tag not in ("script", "style"):
            self.texts.append(data)

    def handle_endtag(self, _tag):
        self._open = None


def paged(tmp_path, *args):
    out = tmp_path / "page.html"
    done = CliRunner().invoke(
        main, ["check", *map(str, args), "--format", "html", "--out", str(out)]
    )
    assert done.output == ""
    return out.read_text(encoding="utf-8"), done.exit_code


def test_the_page_says_what_the_json_report_says(tmp_path):
    text, code = paged(tmp_path, FAULTY)
    told = json.loads(CliRunner().invoke(main, ["check", str(FAULTY), "--format", "json"]).output)
    assert code == 1
    page = Reader(text)
    index = page.blocks["index"]
    issues = [i for part in index["parts"] for i in part["issues"]] + index["rest"]
    assert sum(issue["count"] for issue in issues) == len(told["findings"])
    assert len(index["parts"]) == told["summary"]["parts"] == len(page.blocks) - 1
    words = " ".join(page.texts)
    for kind in ("error", "warning", "note"):
        number = told["summary"][f"{kind}s"]
        assert f'<li class="{kind}"><b>{number}</b>' in text
    assert f'<li class="waived"><b>{told["summary"]["waived"]}</b>' in text
    for path in told["files"]:
        data = Path(path).read_bytes()
        assert path in page.texts
        assert hashlib.sha256(data).hexdigest() in page.texts
    assert {i["rule"] for i in issues} == {f["rule"] for f in told["findings"]}
    for rule in told["rules_run"]:
        assert rule in page.texts
    for entry in told["rules_not_applicable"]:
        assert f"not applied: {entry['why']}" in page.texts
    assert CAUTION in words


def test_each_finding_has_its_number_on_the_picture(tmp_path):
    path = tmp_path / "w.bmk"
    path.write_text(WAIVED)
    text, code = paged(tmp_path, path)
    assert code == 1
    page = Reader(text)
    (entry,) = page.blocks["index"]["parts"]
    by_rule = {issue["rule"]: issue for issue in entry["issues"]}
    waived, error = by_rule["hole-in-fillet"], by_rule["feature-past-end"]
    assert (waived["kind"], waived["waived"]) == ("waived", "RFI 9: washer fits (by QA)")
    assert waived["waived_at"] == f"{path.as_posix()}:5:3"
    assert error["line"] == "leg a { holes 22 gauge 24 at 50   holes 22 gauge 60 at 150, 310 }"
    assert error["marks"].count("^") == 3
    assert error["line"][error["marks"].index("^") :].startswith("310")
    leg = page.blocks["data-0"]["legs"][0]
    items = leg["picture"]["items"]
    balloons = {item[5]: item for item in items if item[0] == "b"}
    assert str(error["n"]) in {n for text in balloons for n in text.split(", ")}
    assert next(b for text, b in balloons.items() if str(waived["n"]) in text)[1] == "waived"
    rings = {i[-1]: i for pane in items if pane[0] == "p" for i in pane[7] if "ring" in i[1]}
    assert str(waived["n"]) in rings
    assert rings[str(waived["n"])][1] == "ring-waived"
    assert page.blocks["data-0"]["refused"] == "it has errors"
    assert page.blocks["data-0"]["waivers"] == [
        "hole-in-fillet on leg a a1: RFI 9: washer fits, by QA"
    ]
    rule = page.blocks["index"]["rules"]["hole-in-fillet"]
    assert rule["reference"]
    assert "Why:" in rule["text"]


def test_faults_that_are_not_at_a_hole_stand_beside_the_fact_they_are_about(tmp_path):
    page = Reader(paged(tmp_path, FAULTY / "designation-differs.nc1")[0])
    (entry,) = page.blocks["index"]["parts"]
    issue = next(i for i in entry["issues"] if i["rule"] == "designation-differs")
    assert issue["element"] == "section"
    facts = {name: numbers for name, _, numbers in page.blocks["data-0"]["facts"]}
    assert facts["section"] == [issue["n"]]
    assert facts["length"] == []


def test_machines_have_a_table_and_totals(tmp_path):
    names = sorted(MACHINES.glob("*.json"))
    options = [word for name in names for word in ("--machine", name)]
    folder = ROOT / "samples" / "tern-quay"
    page = Reader(paged(tmp_path, folder, *options)[0])
    fits = page.blocks["data-0"]["fits"]
    assert len(fits) == len(names) > 1
    assert {verdict for _, verdict, _ in fits} <= {"complete", "with second work", "not"}
    assert all(fit[0] in page.texts for fit in fits)
    for name in names:
        assert hashlib.sha256(name.read_bytes()).hexdigest() in page.texts
    settings = (folder / "backmark.toml").read_bytes()
    assert hashlib.sha256(settings).hexdigest() in page.texts
    assert any("u_view_bottom = toe" in text for text in page.texts)


BAD = (
    "</script><script>window.pwned=1</script>",
    '"><img src=x onerror=window.pwned=2>',
    "<svg onload=window.pwned=3>",
    "a\u202eb\u2066c\u2028d\u200be",
    "&lt;b&gt;&amp;",
    "';alert(1)//",
    "<!--",
    "\\u003cscript>",
)


def hostile_file(folder, texts=BAD):
    """Write a file of one part for each text, which stands everywhere a text may."""
    files = []
    for number, text in enumerate(texts):
        part = {
            "mark": f"{number}{text}",
            "title": text,
            "grade": text,
            "order": text,
            "drawing": text,
            "remarks": [text],
            "second_work": [text],
            "length_mm": 300.0,
            "section": {
                "kind": "angle",
                "designation": text,
                "leg_a_mm": 100.0,
                "leg_b_mm": 100.0,
                "thickness_mm": 10.0,
            },
            "legs": {
                "a": {
                    "features": [
                        {
                            "id": "a1",
                            "kind": "stamp",
                            "text": text,
                            "x_mm": 280.0,
                            "from_heel_mm": 95.0,
                            "height_mm": 10.0,
                        },
                        {
                            "id": "a2",
                            "kind": "hole",
                            "x_mm": 320.0,
                            "y_mm": 50.0,
                            "diameter_mm": 22.0,
                        },
                    ]
                },
                "b": {},
            },
            "ends": {},
            "waivers": [{"rule": "feature-past-end", "feature": "a2", "leg": "a", "reason": text}],
        }
        path = folder / f"p{number}.part.json"
        document = {"format": "backmark/part", "version": "1.0", "part": part}
        path.write_text(json.dumps(document, ensure_ascii=False), encoding="utf-8")
        files.append(path)
    name = "<img src=x onerror=window.pwned=4>.bmk"
    (folder / name).write_text("part </script><b>X { nothing }\n", encoding="utf-8")
    return files


def test_hostile_texts_stay_texts(tmp_path):
    folder = tmp_path / "in"
    folder.mkdir()
    hostile_file(folder)
    text, _ = paged(tmp_path, folder)
    page = Reader(text)
    assert page.tags.count("script") == 1 + len(page.blocks)
    assert not {"img", "b ", "iframe", "object", "link", "base"} & set(page.tags)
    assert not [name for _, name, _ in page.attributes if name.startswith("on")]
    assert not [name for _, name, _ in page.attributes if name in ("src", "style")]
    links = [value for _, name, value in page.attributes if name == "href"]
    assert links == ["#parts"]
    marks = [part["mark"] for part in page.blocks["index"]["parts"]]
    assert len(marks) == len(BAD)
    assert "0</script><script>window.pwned=1</script>" in marks
    assert "3a\\u202eb\\u2066c\\u2028d\\u200be" in marks
    assert not re.search("[\x00-\x08\x0b-\x1f\u200b-\u200f\u2028-\u202e\u2066-\u2069]", text)


def test_the_policy_names_the_very_script_and_style_of_the_page(tmp_path):
    text, _ = paged(tmp_path, FAULTY)
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', text)[1]
    script = re.search(r"<script>(.*?)</script>", text, re.DOTALL)[1]
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)[1]
    for kind, body in (("script-src", script), ("style-src", style)):
        digest = base64.b64encode(hashlib.sha256(body.encode()).digest()).decode()
        assert f"{kind} 'sha256-{digest}'" in policy
    assert policy.startswith("default-src 'none';")
    assert "unsafe" not in policy
    assert "http:" not in text.replace("http://www.w3.org/2000/svg", "")
    assert "https:" not in text


def test_data_can_not_close_its_block_and_reads_back():
    for bad in (*BAD, "\ud800", "\x00\x1b[2J"):
        block = data_block("x", {"text": bad})
        inner = block.removeprefix('<script type="application/json" id="x">')
        inner = inner.removesuffix("</script>\n")
        assert "<" not in inner
        assert ">" not in inner
        assert inner.isascii()
        shown = json.loads(inner)["text"]
        assert shown.isprintable()
        assert escaped(bad).isprintable()


def test_the_same_bytes_in_any_hash_order(tmp_path):
    pages = []
    command = [sys.executable, "-m", "translator", "check", "samples/faulty", "--format", "html"]
    for seed in ("0", "1", "77"):
        out = tmp_path / f"{seed}.html"
        done = subprocess.run(
            [*command, "--out", str(out)],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=False,
            capture_output=True,
        )
        assert (done.returncode, done.stdout, done.stderr) == (1, b"", b"")
        pages.append(out.read_bytes())
    assert pages[0] == pages[1] == pages[2]


def test_without_out_the_page_is_printed(tmp_path):
    path = tmp_path / "w.bmk"
    path.write_text(WAIVED)
    done = CliRunner().invoke(main, ["check", str(path), "--format", "html"])
    assert done.exit_code == 1
    assert done.output.startswith("<!DOCTYPE html>")
    assert done.output.endswith("</html>\n")


def test_a_folder_that_can_not_be_written_is_a_sentence(tmp_path):
    (tmp_path / "file").write_text("")
    path = tmp_path / "w.bmk"
    path.write_text(WAIVED)
    out = tmp_path / "file" / "page.html"
    done = CliRunner().invoke(main, ["check", str(path), "--format", "html", "--out", str(out)])
    assert done.exit_code == 2
    assert "can't make the folder" in done.output or "can't write" in done.output


@pytest.mark.parametrize(
    ("element", "leg", "feature"),
    [
        ("legs.a.a1", "a", "a1"),
        ("legs.a.a1.x_mm", "a", "a1"),
        ("legs.b", "b", ""),
        ("legs.a.trims.0", "a", ""),
        ("legs.a.trims.7", "a", ""),
        ("ends.far", "a", ""),
    ],
)
def test_where_an_element_lies(element, leg, feature):
    from test_pages_picture import clip

    from translator.model import Cope, Hole, Leg

    part = clip(a=(Hole(id="a1", x_mm=50.0, y_mm=60.0, diameter_mm=20.0),))
    cope = Cope(end="far", side="toe", along_mm=40.0, across_mm=20.0)
    legs = part.legs.model_copy(update={"a": Leg(features=part.legs.a.features, trims=(cope,))})
    part = part.model_copy(update={"legs": legs})
    first = targets(part, element)[0]
    assert (first.leg, first.feature) == (leg, feature)
    if element == "legs.a.trims.0":
        assert (first.x, first.y) == (pytest.approx(292.1 - 20.0), pytest.approx(101.6 - 10.0))
    if feature:
        assert (first.x, first.y, first.clear_mm) == (50.0, 60.0, 10.0)


@pytest.mark.parametrize("element", ["", "length", "grade", "waivers.0", "legs.a.none", "legs.c.x"])
def test_what_has_no_place_on_a_leg(element):
    from test_pages_picture import clip

    assert targets(clip(), element) == ()
