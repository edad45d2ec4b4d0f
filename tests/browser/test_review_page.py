"""The review page in a browser: filter, search, jump, keys, print, hostile texts, access."""

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner
from test_pages_review import BAD, hostile_file

from translator.commands import main

ROOT = Path(__file__).resolve().parent.parent.parent
SAMPLES = ROOT / "samples"
CLIP = """\
units inch
part {mark} {{
  section L4x3-1/2x3/8   length 11-1/2   quantity 4   grade A36
  leg a {{ holes 13/16 gauge {gauge} at 1-1/4, 3 @ 3 }}
  leg b {{ slots 13/16 x 1 across leg gauge 2 at 1-1/4, 3 @ 3 }}
}}
"""


def written(out, *args):
    done = CliRunner().invoke(
        main, ["check", *map(str, args), "--format", "html", "--out", str(out)]
    )
    assert done.exit_code in (0, 1), done.output
    return out


@pytest.fixture(scope="session")
def faulty(tmp_path_factory):
    return written(tmp_path_factory.mktemp("page") / "faulty.html", SAMPLES / "faulty")


@pytest.fixture(scope="session")
def quay(tmp_path_factory):
    machines = [w for m in sorted((SAMPLES / "machines").glob("*.json")) for w in ("--machine", m)]
    out = tmp_path_factory.mktemp("page") / "quay.html"
    return written(out, SAMPLES / "tern-quay", *machines)


@pytest.fixture(scope="session")
def many(tmp_path_factory):
    """Return a page of 300 parts, every tenth with holes in the fillet."""
    folder = tmp_path_factory.mktemp("many")
    text = "units inch\n" + "".join(
        CLIP.format(mark=f"M{n}", gauge="3/4" if n % 10 == 0 else "2-1/2").replace(
            "units inch\n", ""
        )
        for n in range(300)
    )
    (folder / "m.bmk").write_text(text)
    return written(folder / "many.html", folder / "m.bmk")


def shown(page, selector):
    return page.locator(f"{selector}:visible").count()


def until(page, expression):
    """Wait until something holds; the page's policy keeps the driver's own way from working."""
    for _ in range(200):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(25)
    pytest.fail(f"it never came to {expression}")


def status(page):
    return page.locator("#status").inner_text()


def index(page):
    return json.loads(page.locator("#index").text_content())


def test_all_is_there_at_first(opened, faulty):
    page = opened(faulty)
    data = index(page)
    assert shown(page, "article.part") == len(data["parts"]) + 1
    total = sum(i["count"] for part in data["parts"] for i in part["issues"])
    total += sum(i["count"] for i in data["rest"])
    assert status(page) == f"{total} findings in {len(data['parts'])} parts shown"
    assert page.locator("#list a").count() == len(data["parts"]) + 1


def test_the_filters_of_severity_fault_and_part(opened, faulty):
    page = opened(faulty)
    data = index(page)
    for kind in ("warning", "note", "waived", "clean"):
        page.locator(f"#show-{kind}").uncheck()
    errors = [p for p in data["parts"] if any(i["kind"] == "error" for i in p["issues"])]
    rest = any(i["kind"] == "error" for i in data["rest"])
    assert shown(page, "article.part") == len(errors) + rest
    name = next(i["rule"] for i in errors[0]["issues"] if i["kind"] == "error")
    page.locator("#rule").select_option(name)
    with_fault = [p for p in errors if any(i["rule"] == name for i in p["issues"])]
    assert page.locator("article.part:visible h3 bdi:first-child").all_text_contents() == [
        p["mark"] for p in with_fault
    ]
    page.get_by_role("button", name="Show all").click()
    assert shown(page, "article.part") == len(data["parts"]) + 1
    page.locator("#only").select_option(label="X6")
    assert shown(page, "article.part") == 1
    assert page.locator("article.part:visible h3").text_content() == "X6"


def test_search_finds_marks_words_and_files(opened, faulty):
    page = opened(faulty)
    for words, mark in (("repeats HOLE a2", "X6"), ("duplicate-hole.bmk", "X6")):
        page.locator("#search").fill(words)
        assert page.locator("article.part:visible h3").all_text_contents() == [mark]
        assert page.locator("#list a:visible").count() == 1
    page.locator("#search").fill("no such words anywhere")
    assert shown(page, "article.part") == 0
    assert status(page) == "0 findings in 0 parts shown"
    page.locator("#search").press("Escape")
    assert page.locator("#search").input_value() == ""
    assert shown(page, "article.part") > 10


def test_a_finding_is_marked_at_its_feature_and_each_leads_to_the_other(opened, faulty):
    page = opened(faulty)
    page.locator("#search").fill("X6")
    part = page.locator("article.part:visible")
    balloon = part.locator("g[data-tag='1']")
    assert balloon.locator("text").text_content() == "1"
    hole = part.locator("circle[data-feature='a3']").bounding_box()
    ring = part.locator("circle[data-tag='1']").bounding_box()
    middle = (hole["x"] + hole["width"] / 2, hole["y"] + hole["height"] / 2)
    assert middle[0] == pytest.approx(ring["x"] + ring["width"] / 2, abs=0.6)
    assert middle[1] == pytest.approx(ring["y"] + ring["height"] / 2, abs=0.6)
    foot = balloon.locator(".foot").bounding_box()
    away = ((foot["x"] + 2 - middle[0]) ** 2 + (foot["y"] + 2 - middle[1]) ** 2) ** 0.5
    assert away <= ring["width"] / 2 + 4
    balloon.locator("text").click()
    finding = part.locator("li.finding").first
    assert finding.evaluate("e => e === document.activeElement")
    assert "on" in finding.get_attribute("class").split()
    assert "on" in part.locator("circle[data-tag='1']").get_attribute("class").split()
    assert (
        part.locator("circle[data-feature='a3'] title").text_content().startswith("a3: hole 13/16")
    )
    line, marks = finding.locator("pre").text_content().split("\n")
    assert line[marks.index("^")] == "6"


def test_a_link_leads_to_a_part_and_to_a_finding(opened, faulty):
    page = opened(faulty)
    page.locator("#list a", has_text="X9").click()
    assert page.evaluate("document.activeElement.querySelector('h3').textContent") == "X9"
    target = page.evaluate("document.activeElement.id")
    page.evaluate(f"location.hash = '#{target}-1'")
    until(page, f"document.activeElement.id === '{target}-1'")
    assert page.locator(f"#{target}-1").is_visible()


def test_the_keys(opened, faulty):
    page = opened(faulty)
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") == "search"
    page.keyboard.type("n")  # a letter in a field is a letter
    assert page.locator("#search").input_value() == "n"
    page.keyboard.press("Escape")
    seen = []
    for key in "nnnp":
        page.keyboard.press(key)
        seen.append(page.evaluate("document.activeElement.id"))
    assert seen[0] == "files-found-1"
    assert seen[3] == seen[1]
    assert len(set(seen)) == 3
    assert page.locator(f"#{seen[3]}").evaluate(
        "e => { const b = e.getBoundingClientRect(); return b.top >= 0 && b.top < innerHeight; }"
    )
    before = page.locator("#list a[aria-current]").text_content()
    page.keyboard.press("j")
    after = page.locator("#list a[aria-current]").text_content()
    assert after != before
    page.keyboard.press("k")
    assert page.locator("#list a[aria-current]").text_content() == before
    page.keyboard.press("?")
    assert page.get_by_role("dialog").is_visible()
    page.get_by_label("no single-key commands").check()
    page.get_by_role("button", name="Close").click()
    assert not page.get_by_role("dialog").is_visible()
    page.locator("h1").click()
    page.keyboard.press("/")
    assert page.evaluate("document.activeElement.id") != "search"


def test_all_controls_are_reached_with_the_tab_key(opened, faulty):
    page = opened(faulty)
    seen = set()
    for _ in range(12):
        page.keyboard.press("Tab")
        seen.add(page.evaluate("document.activeElement.id || document.activeElement.innerText"))
    assert {"search", "show-error", "show-clean", "rule", "only", "Show all", "Keys"} <= seen


def test_parts_are_drawn_when_they_come_into_view(opened, many):
    page = opened(many)
    until(page, "document.querySelectorAll('svg.picture').length > 0")
    drawn = page.locator("article.part:not(.is-shell)").count()
    assert drawn < 20
    last = page.locator("article.part").last
    assert last.locator("svg.picture").count() == 0
    last.scroll_into_view_if_needed()
    until(page, "!document.querySelector('#part-299').classList.contains('is-shell')")
    assert last.locator("svg.picture").count() == 2
    # Jumping to a finding far down draws its part alone.
    page.locator("#rule").select_option("hole-in-fillet")
    assert shown(page, "#list a") == 30
    page.locator("#list a", has_text=re.compile(r"^M150")).click()
    assert page.locator("#part-150 svg.picture").count() == 2
    assert page.locator("article.part.is-shell").count() > 200


def test_print_shows_every_part_that_is_shown_on_a_page_of_its_own(opened, many):
    page = opened(many)
    page.locator("#search").fill("M29")  # M29 and M290 to M299
    page.emulate_media(media="print")
    until(page, "document.querySelectorAll('article.part:not([hidden]).is-shell').length === 0")
    assert shown(page, "article.part") == 11
    assert not page.locator("#side").is_visible()
    assert page.locator("article.part:visible .only-print").first.is_visible()
    breaks = page.locator("article.part:visible").evaluate_all(
        "all => all.map(e => getComputedStyle(e).breakBefore)"
    )
    assert breaks == ["page"] * 11
    pdf = page.pdf(format="A4")
    pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))
    assert pages >= 12


def test_hostile_texts_are_seen_as_text_and_do_nothing(opened, tmp_path):
    folder = tmp_path / "in"
    folder.mkdir()
    hostile_file(folder)
    page = opened(written(tmp_path / "page.html", folder))
    page.emulate_media(media="print")
    until(page, "document.querySelectorAll('.is-shell').length === 0")
    page.emulate_media(media="screen")
    assert page.evaluate("window.pwned") is None
    assert page.locator("img, iframe, script[src], article b, article script").count() == 0
    heads = page.locator("article.part h3").all_text_contents()
    for number, text in enumerate(BAD):
        seen = "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in text)
        assert any(head.startswith(f"{number}{seen}") for head in heads)
        part = page.locator(
            "article.part", has=page.locator("h3", has_text=f"{number}{seen}")
        ).first
        assert part.locator("text.stamp").text_content() == seen
        page.locator("#search").fill(f"{number}{seen}")
        assert shown(page, "article.part") >= 1
    controls = page.evaluate(
        "/[\\u0000-\\u0008\\u200b-\\u200f\\u2028-\\u202e\\u2066-\\u2069]/.test(document.getElementById('main').textContent)"
    )
    assert controls is False


def test_nothing_else_can_run_even_if_it_got_in(chromium, faulty):
    """The policy of the page blocks a script and a handler that are not its own."""
    page = chromium.new_page()
    page.goto(faulty.resolve().as_uri())
    page.evaluate(
        "() => { const s = document.createElement('script'); s.textContent = 'window.pwned = 1';"
        " document.body.append(s); const d = document.createElement('div');"
        " d.innerHTML = '<img src=x onerror=\"window.pwned = 2\">'; document.body.append(d); }"
    )
    page.wait_for_timeout(100)
    assert page.evaluate("window.pwned") is None
    page.close()


@pytest.mark.parametrize(("scheme", "width"), [("light", 1280), ("dark", 480)])
def test_axe_finds_nothing_serious(opened, quay, scheme, width):
    from axe_playwright_python.sync_playwright import Axe

    page = opened(quay, color_scheme=scheme, viewport={"width": width, "height": 900})
    page.keyboard.press("n")
    page.keyboard.press("n")
    page.locator("details").evaluate_all("all => all.forEach(e => e.open = true)")
    # Drawn whole, not as it comes into view.
    page.emulate_media(media="print", color_scheme=scheme)
    until(page, "document.querySelectorAll('.is-shell').length === 0")
    page.emulate_media(media="screen", color_scheme=scheme)
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
    page.keyboard.press("n")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_the_machine_table_and_the_rules_are_there(opened, quay):
    page = opened(quay)
    table = page.locator("#main section", has=page.locator("#mach-head")).locator("table")
    assert table.locator("tbody tr").count() == len(index(page)["parts"])
    assert {"complete", "not"} <= {
        text.partition(":")[0] for text in table.locator("td").all_text_contents()
    }
    page.locator("summary", has_text="rules applied").click()
    rules = page.locator("#main section", has=page.locator("#rules-head")).locator("tbody tr")
    assert rules.count() > 50
