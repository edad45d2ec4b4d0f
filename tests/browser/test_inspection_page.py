"""The first-piece sheet in a browser: on paper, for everybody, and silent."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main

SAMPLES = Path(__file__).resolve().parent.parent.parent / "samples" / "tern-quay"


@pytest.fixture(scope="session")
def sheets(tmp_path_factory):
    out = tmp_path_factory.mktemp("sheets")
    for name in ("clips.bmk", "bracing.bmk", "flats.bmk"):
        assert (
            CliRunner().invoke(main, ["inspect", str(SAMPLES / name), "--out", str(out)]).exit_code
            == 0
        )
    return out


@pytest.mark.parametrize(("mark", "pages"), [("C12", 2), ("B7", 2), ("F42", 1)])
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_one_page_a_leg(opened, sheets, mark, pages, paper):
    page = opened(sheets / f"{mark}.inspect.html")
    page.emulate_media(media="print")
    found = re.findall(rb"/Type\s*/Page\b(?!s)", page.pdf(format=paper))
    assert len(found) == pages


@pytest.mark.parametrize("mark", ["C12", "B7", "F42"])
def test_no_balloon_lies_on_another_and_none_is_cut_off(opened, sheets, mark):
    page = opened(sheets / f"{mark}.inspect.html")
    count = page.locator("svg.picture").count()
    for number in range(count):
        picture = page.locator("svg.picture").nth(number)
        frame = picture.bounding_box()
        boxes = [box.bounding_box() for box in picture.locator("rect").all()]
        assert boxes
        for box in boxes:
            assert box["x"] >= frame["x"] - 0.5
            assert box["x"] + box["width"] <= frame["x"] + frame["width"] + 0.5
            assert box["y"] >= frame["y"] - 0.5
            assert box["y"] + box["height"] <= frame["y"] + frame["height"] + 0.5
        for at, one in enumerate(boxes):
            for other in boxes[at + 1 :]:
                assert (
                    one["x"] + one["width"] <= other["x"] + 0.1
                    or other["x"] + other["width"] <= one["x"] + 0.1
                    or one["y"] + one["height"] <= other["y"] + 0.1
                    or other["y"] + other["height"] <= one["y"] + 0.1
                )


def test_there_is_room_to_write(opened, sheets):
    page = opened(sheets / "C12.inspect.html")
    row = page.locator("tbody tr").first.locator("td")
    measured, initials = row.nth(5).bounding_box(), row.nth(6).bounding_box()
    assert measured["width"] > 60
    assert measured["height"] >= 20
    assert initials["width"] > 40
    assert page.locator(".blank dd").count() == 5 * page.locator("section").count()


def test_axe_finds_nothing_serious(opened, sheets):
    from axe_playwright_python.sync_playwright import Axe

    page = opened(sheets / "C12.inspect.html")
    found = Axe().run(page)
    bad = [
        f"{v['id']} ({v['impact']}): {v['nodes'][0]['html'][:200]}"
        for v in found.response["violations"]
        if v["impact"] in ("moderate", "serious", "critical")
    ]
    assert bad == []
    assert len(found.response["passes"]) > 8
