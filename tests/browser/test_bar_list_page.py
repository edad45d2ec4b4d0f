"""Bar list, setup sheet and labels in a browser: on paper, for everybody, and silent."""

import re
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main
from translator.findings import CAUTION

ROOT = Path(__file__).resolve().parent.parent.parent
QUAY = ROOT / "samples" / "tern-quay"
LINE_2 = ROOT / "samples" / "machines" / "drill-and-saw-line.machine.json"
PAGES = ("bars", "setup", "labels", "estimate")


@pytest.fixture(scope="session")
def lists(tmp_path_factory):
    """Plan the sample order on the saw line and write its lists, as a shop would."""
    out = tmp_path_factory.mktemp("lists")
    parts = [str(QUAY / f"{name}.bmk") for name in ("bracing", "clips", "cleats", "seats")]
    planned = ["plan", *parts, "--machine", str(LINE_2), "--standard", "20',6000mm"]
    assert CliRunner().invoke(main, [*planned, "--out", str(out)]).exit_code in (0, 1)
    asked = ["bars", str(out / "plan.json"), *parts, "--machine", str(LINE_2), "--code"]
    done = CliRunner().invoke(main, [*asked, "--release", "TQ-7-R1", "--out", str(out)])
    assert done.exit_code == 0, done.output
    return out


def sheets(pdf):
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints(opened, lists, name, paper):
    page = opened(lists / f"{name}.html")
    page.emulate_media(media="print")
    assert 1 <= sheets(page.pdf(format=paper, landscape=name != "labels")) < 40


def test_labels_fill_their_sheets_one_by_one(opened, lists):
    page = opened(lists / "labels.html")
    drawings = page.locator("svg.sheet").count()
    page.emulate_media(media="print")
    assert sheets(page.pdf(prefer_css_page_size=True)) == drawings


@pytest.mark.parametrize("name", ["bars", "setup", "estimate"])
def test_the_caution_is_on_every_sheet(opened, lists, name, tmp_path):
    """Against the printed file: a reader of PDF finds it as often as there are sheets."""
    import pypdf

    page = opened(lists / f"{name}.html")
    page.emulate_media(media="print")
    path = tmp_path / "printed.pdf"
    path.write_bytes(page.pdf(prefer_css_page_size=True))
    start = CAUTION[:40]
    for sheet in pypdf.PdfReader(path).pages:
        assert start in " ".join(sheet.extract_text().split())


def inside(box, frame, slack=0.6):
    return (
        box["x"] >= frame["x"] - slack
        and box["y"] >= frame["y"] - slack
        and box["x"] + box["width"] <= frame["x"] + frame["width"] + slack
        and box["y"] + box["height"] <= frame["y"] + frame["height"] + slack
    )


def apart(one, two):
    return (
        one["x"] + one["width"] <= two["x"] + 0.6
        or two["x"] + two["width"] <= one["x"] + 0.6
        or one["y"] + one["height"] <= two["y"] + 2.5
        or two["y"] + two["height"] <= one["y"] + 2.5
    )


def rectangles(page, groups, kinds):
    """Return, for each group of the page, the boxes of what it holds of each kind, at one go."""
    script = """([groups, kinds]) => Array.from(document.querySelectorAll(groups), group =>
        kinds.map(kind => Array.from(kind ? group.querySelectorAll(kind) : [group], item => {
            const box = item.getBoundingClientRect();
            return {x: box.x, y: box.y, width: box.width, height: box.height};
        })))"""
    return page.evaluate(script, [groups, kinds])


def test_no_text_of_a_bar_is_cut_off_or_lies_on_another(opened, lists):
    page = opened(lists / "bars.html")
    drawings = rectangles(page, "svg.bar", ["", "text.run, text.on"])
    assert len(drawings) > 5
    for (frame,), texts in drawings:
        assert all(inside(text, frame) for text in texts)
        for at, one in enumerate(texts):
            assert all(apart(one, two) for two in texts[at + 1 :])


def test_no_text_of_a_label_leaves_it(opened, lists):
    page = opened(lists / "labels.html")
    labels = rectangles(page, "svg.sheet g", ["rect.edge", "path.code", "text"])
    assert len(labels) > 50
    for (frame,), (code,), texts in labels:
        assert len(texts) > 3
        for text in texts:
            assert inside(text, frame)
            assert text["x"] + text["width"] <= code["x"] + 0.6


def test_a_page_is_not_wider_than_its_window(opened, lists):
    for name in ("bars", "setup", "estimate"):
        page = opened(lists / f"{name}.html")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_there_is_room_to_write(opened, lists):
    bars = opened(lists / "bars.html")
    assert bars.locator("td.blank").first.bounding_box()["width"] > 60
    setup = opened(lists / "setup.html")
    assert setup.locator(".fill dd").first.bounding_box()["width"] > 100
    assert setup.locator("td.blank").first.bounding_box()["width"] > 60


@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_nothing_serious(opened, lists, name):
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(opened(lists / f"{name}.html"))
    bad = [
        f"{v['id']} ({v['impact']}): {v['nodes'][0]['html'][:200]}"
        for v in found.response["violations"]
        if v["impact"] in ("moderate", "serious", "critical")
    ]
    assert bad == []
    assert len(found.response["passes"]) > 5


def test_hostile_marks_run_nothing(opened, tmp_path):
    sys.path.insert(0, str(ROOT / "tests"))
    from plan_bars import bar, plan

    from translator.bars.bar_list_page import bar_list_page

    mark = "\"><script>alert(1)</script><img src=x onerror=alert(2)>'"
    path = tmp_path / "bars.html"
    own = bar(pieces=[(mark, 292.1)] * 3, heat=mark, stock=mark)
    path.write_text(bar_list_page(plan(own, remarks=(mark,))), encoding="utf-8")
    page = opened(path)
    assert page.locator("img, script").count() == 0
    assert mark in page.locator("main").inner_text()
