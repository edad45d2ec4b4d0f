"""The page of changes in a browser: what is drawn, filter, keys, print, hostile texts, access."""

import re
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from test_compare_parts import CLIP, longer, moved
from test_review_page import shown, status, until

from translator.changes import Side, compare
from translator.changes.page import render
from translator.commands import main
from translator.model import Placed
from translator.source import whole_file

SAMPLES = Path(__file__).resolve().parent.parent.parent / "samples"


def written(out, *args):
    done = CliRunner().invoke(
        main, ["compare", *map(str, args), "--format", "html", "--out", str(out)]
    )
    assert done.exit_code in (0, 1), done.output
    return out


@pytest.fixture(scope="session")
def quay(tmp_path_factory):
    out = tmp_path_factory.mktemp("changes") / "quay.html"
    return written(out, SAMPLES / "tern-quay", SAMPLES / "tern-quay-rev-b")


def side(parts, name):
    placed = (Placed(part=p, places={"": whole_file(f"{name}/{p.mark}.bmk")}) for p in parts)
    return Side(name=name, parts=tuple(placed))


@pytest.fixture(scope="session")
def many(tmp_path_factory):
    """Return a page of 2,000 parts that changed."""
    old = [CLIP.model_copy(update={"mark": f"M{n}"}) for n in range(2000)]
    new = [moved(p, "a", 6.35, numbers={1}) for p in old[:1000]]
    new += [longer(p, 25.4) for p in old[1000:]]
    out = tmp_path_factory.mktemp("changes") / "many.html"
    out.write_text(render(compare(side(old, "old"), side(new, "new"))), encoding="utf-8")
    return out


def part(page, mark):
    return page.locator(
        "article.part", has=page.locator("h3 bdi", has_text=re.compile(f"^{mark}$"))
    )


def test_both_states_are_drawn_and_numbers_point_at_what_changed(opened, quay):
    page = opened(quay)
    clip = part(page, "C12")
    assert clip.locator("svg.picture").count() == 2
    leg_a, leg_b = clip.locator("figure").all()
    assert leg_a.locator("path.ov-was").count() == leg_a.locator("path.ov-is").count() == 1
    assert leg_a.locator("path.ov-arrow").count() == 1
    assert leg_b.locator("path.ov-arrow").count() == 5
    assert leg_a.locator("path.ov-old").count() == 1  # it is longer now
    # The balloon of "hole 13/16 at 4-1/4 moved" stands over where the hole is now.
    number = clip.locator(".changes li", has_text="4-1/4 moved to 4-1/2").locator(".count")
    text = leg_a.locator("text.plain-text", has_text=number.text_content())
    hole = leg_a.locator("path.ov-is").bounding_box()
    foot = leg_a.locator("circle.foot").all()
    middle = (hole["x"] + hole["width"] / 2, hole["y"] + hole["height"] / 2)
    boxes = [f.bounding_box() for f in foot]
    assert any(
        abs(b["x"] + b["width"] / 2 - middle[0]) < 1.5
        and abs(b["y"] + b["height"] / 2 - middle[1]) < 1.5
        for b in boxes
    )
    assert text.count() == 1


def test_lines_differ_without_colour(opened, quay):
    page = opened(quay)
    clip = part(page, "C12")

    def dash(kind):
        return clip.locator(f"path.{kind}").first.evaluate(
            "e => getComputedStyle(e).strokeDasharray"
        )

    assert dash("ov-was") != "none"
    assert dash("ov-old") != "none"
    assert dash("ov-is") == dash("ov-new") == "none"


def test_no_balloon_lies_over_another(opened, quay):
    page = opened(quay)
    for svg in page.locator("svg.picture").all():
        boxes = [b.bounding_box() for b in svg.locator("rect.plain").all()]
        for i, a in enumerate(boxes):
            for b in boxes[i + 1 :]:
                apart_x = a["x"] + a["width"] <= b["x"] or b["x"] + b["width"] <= a["x"]
                apart_y = a["y"] + a["height"] <= b["y"] or b["y"] + b["height"] <= a["y"]
                assert apart_x or apart_y


def test_a_warning_of_the_hand_stands_out(opened, quay):
    page = opened(quay)
    warning = part(page, "C22").locator(".hand")
    assert warning.is_visible()
    assert "is now the mirror image of what it was" in warning.text_content()
    assert page.locator(".hand").count() == 1


def test_filter_and_search(opened, quay):
    page = opened(quay)
    total = page.locator("article.part").count()
    assert status(page) == f"{total} of {total} parts shown"
    page.get_by_label("removed").uncheck()
    assert shown(page, "article.part") == 6
    page.locator("#search").fill("hole 4-1/2")
    assert shown(page, "article.part") == shown(page, "#list li") == 1
    assert page.locator("article.part:visible h3 bdi").text_content() == "C12"
    page.locator("#search").fill("no such words")
    assert status(page) == f"0 of {total} parts shown"


def test_all_is_reached_with_the_tab_key(opened, quay):
    page = opened(quay)
    seen = []
    for _ in range(14):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.id || document.activeElement.hash"))
    assert "search" in seen
    assert "show-metal" in seen
    assert "#part-0" in seen
    page.locator("#list a", has_text="C22").focus()
    page.keyboard.press("Enter")
    until(page, "document.activeElement.classList.contains('part')")
    assert page.evaluate("document.activeElement.querySelector('h3 bdi').textContent") == "C22"


def test_it_reads_without_scripts(chromium, quay):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(quay.resolve().as_uri())
    assert page.locator("article.part:visible").count() > 6
    assert page.locator("svg.picture").count() > 6
    context.close()


def test_two_thousand_parts_open(opened, many):
    assert many.stat().st_size < 20_000_000
    start = time.monotonic()
    page = opened(many)
    until(page, "document.documentElement.dataset.ready === 'yes'")
    assert time.monotonic() - start < 30  # a machine under load; on its own it takes a second
    assert page.locator("article.part").count() == 2000
    page.locator("#search").fill("M1999")
    assert shown(page, "article.part") == 1
    assert part(page, "M1999").locator("svg.picture").count() == 2


def test_print_shows_all_that_is_shown(opened, quay):
    page = opened(quay)
    page.locator("#search").fill("C2")
    page.emulate_media(media="print")
    assert not page.locator("#side").is_visible()
    pdf = page.pdf(format="A4")
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) >= 2
    assert part(page, "C22").is_visible()
    assert not part(page, "C12").is_visible()


def test_hostile_texts_are_seen_as_text_and_do_nothing(opened, tmp_path):
    bad = "<img src=x onerror='window.pwned=1'>\u202e</script><script>window.pwned=2</script>"
    old = CLIP.model_copy(update={"mark": bad})
    new = moved(old, "a", 6.35, numbers={1}).model_copy(update={"title": bad, "finish": bad})
    out = tmp_path / "hostile.html"
    out.write_text(render(compare(side([old], bad), side([new], "new"))), encoding="utf-8")
    page = opened(out)
    assert page.evaluate("window.pwned") is None
    assert page.locator("article.part img, article.part script").count() == 0
    seen = bad.replace("\u202e", "\\u202e")
    assert page.locator("article.part h3 bdi").text_content() == seen


@pytest.mark.parametrize(("scheme", "width"), [("light", 1280), ("dark", 480)])
def test_axe_finds_nothing_serious(opened, quay, scheme, width):
    from axe_playwright_python.sync_playwright import Axe

    page = opened(quay, color_scheme=scheme, viewport={"width": width, "height": 900})
    found = Axe().run(page)
    bad = [
        f"{v['id']} ({v['impact']}): {v['nodes'][0]['html'][:200]}"
        for v in found.response["violations"]
        if v["impact"] in ("moderate", "serious", "critical")
    ]
    assert bad == []
    assert len(found.response["passes"]) > 20


def test_a_narrow_window_needs_no_sideways_scrolling(opened, quay):
    page = opened(quay, viewport={"width": 380, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
