"""The first-piece sheet: every dimension once, numbered, with its tolerance and its source."""

import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from strategies import parts
from test_pages_picture import clip

from translator.commands import main
from translator.findings import CAUTION
from translator.lengths.spell import length_text
from translator.model import (
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Part,
    Slot,
    leg_names,
    leg_of,
)
from translator.pages._dimensions import GROUP_MM, dimensions
from translator.pages._tolerances import QUANTITIES, ShopTolerances, allowed
from translator.pages.inspection import Sheet, render

ROOT = Path(__file__).resolve().parent.parent
SHOP = ShopTolerances()


class Rows(HTMLParser):
    """Collects the cells of each row and the texts in the balloons."""

    def __init__(self, text):
        super().__init__()
        self.rows, self.balloons, self._text = [], [], None
        self._is_balloon = False
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        if tag == "tr":
            self.rows.append([])
        elif tag in ("td", "th"):
            self.rows[-1].append("")
            self._text = "cell"
        elif tag == "text":
            self._is_balloon = dict(attrs)["class"].endswith("-text")

    def handle_data(self, data):
        if self._text == "cell":
            self.rows[-1][-1] += data
        elif self._is_balloon:
            self.balloons.append(data)

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self._text = None
        elif tag == "text":
            self._is_balloon = False


def numbers_of(balloons):
    found = []
    for text in balloons:
        if "-" in text:
            first, last = map(int, text.split("-"))
            found += range(first, last + 1)
        else:
            found += map(int, text.split(", "))
    return found


def holes(*xs, y=63.5, leg="a", diameter=20.6375):
    return tuple(
        Hole(id=f"{leg}{n}", x_mm=x, y_mm=y, diameter_mm=diameter)
        for n, x in enumerate(xs, start=1)
    )


def inch(part):
    return part.model_copy(update={"units": "inch"})


def test_a_clip_in_inches_row_by_row():
    slot = Slot(id="b1", x_mm=50.8, y_mm=44.45, width_mm=20.6375, length_mm=25.4, angle_deg=90.0)
    part = inch(clip(a=holes(31.75, 107.95), b=(slot,)))
    text = render(Sheet(part=part, code="us"))
    rows = [row[:5] for row in Rows(text).rows if row[0] != "No."]
    assert rows == [
        # AISC 303-16 and -22, 6.4 (from memory): 1/16 in. up to 30 ft.
        ["1", "length over all", "11-1/2 in.", "±1/16 in.", "11-7/16 to 11-9/16 in."],
        ["2", "thickness", "3/8 in.", "—", ""],
        # ASTM A6 (from memory): 3/128 in. for each inch of leg.
        ["3", "legs square to each other", "90 deg", "±3/32 in.", "off by up to 3/32 in."],
        ["4", "straight", "straight", "±0.023 in.", "off by up to 0.023 in."],
        ["5", "start end square", "square", "—", ""],
        ["6", "far end square", "square", "—", ""],
        # ASTM A6 (from memory): legs of 3 to 4 in. -3/32, +1/8.
        ["7", "width of leg a", "4 in.", "-3/32 / +1/8 in.", "3-29/32 to 4-1/8 in."],
        ["8", "a1, a2 from the heel", "2-1/2 in.", "—", ""],
        ["9", "a1 from the start end", "1-1/4 in.", "—", ""],
        # 1/32 in. between holes: common practice, no source.
        ["10", "a1 to a2", "3 in.", "±1/32 in.", "2-31/32 to 3-1/32 in."],
        # RCSC Table 3.1 through AISC FAQ 5.1.1: 1/32 in. over.
        ["11", "a1, a2: diameter", "13/16 in.", "no lower, +1/32 in.", "up to 27/32 in."],
        ["12", "width of leg b", "3-1/2 in.", "-3/32 / +1/8 in.", "3-13/32 to 3-5/8 in."],
        ["13", "b1 from the heel", "1-3/4 in.", "—", ""],
        ["14", "b1 from the start end", "2 in.", "—", ""],
        ["15", "b1: width", "13/16 in.", "no lower, +1/32 in.", "up to 27/32 in."],
        ["16", "b1: length over all", "1 in.", "—", ""],
    ]
    for words in (
        "AISC 303-16 and -22 6.4; from memory",
        "common practice, no source",
        "no figure is kept here",
        "ASTM A6; from memory",
        "published copy",
        CAUTION,
        "<dt>heat</dt>",
        "<dt>revision</dt><dd><bdi>none stated</bdi>",
    ):
        assert words in text


def test_millimetres_by_the_european_standards():
    part = clip(a=holes(50.0, 120.0, 1000.0), length=1100.0)
    rows = {row[1]: row[2:5] for row in Rows(render(Sheet(part=part, code="eu"))).rows}
    # EN 1090-2:2018 Annex B (from memory), class 1: 2 mm + L/5000 (L in mm), here 2.22 mm.
    assert rows["length over all"] == ["1100 mm", "±2.22 mm", "1097.78 to 1102.22 mm"]
    # EN 10056-2: the longer leg, 100 to 150 mm, governs: 3 mm. Thickness 5 to 10 mm: 0.75 mm.
    assert rows["width of leg b"] == ["88.9 mm", "±3 mm", "85.9 to 91.9 mm"]
    assert rows["thickness"] == ["9.525 mm", "±0.75 mm", "8.78 to 10.27 mm"]
    assert rows["a1 from the start end"] == ["50 mm", "0 / +3 mm", "50 to 53 mm"]
    assert rows["a1 to a2"] == ["70 mm", "±2 mm", "68 to 72 mm"]
    # Farther apart than one connection: another figure, that between groups.
    assert rows["a2 to a3"] == ["880 mm", "±5 mm", "875 to 885 mm"]
    assert rows["a1 to a3: diameter"][1:] == ["±0.5 mm", "20.14 to 21.13 mm"]


def test_the_tolerance_class_counts():
    part = clip(a=holes(50.0, 120.0))
    shop = ShopTolerances(tolerance_class=2)
    rows = {row[1]: row[3] for row in Rows(render(Sheet(part=part, code="eu", shop=shop))).rows[1:]}
    assert rows["a1 to a2"] == "±1 mm"
    assert rows["length over all"] == "±2.02 mm"


def test_a_flat_has_no_figure_of_an_angle():
    section = Flat(width_mm=100.0, thickness_mm=10.0)
    legs = FlatLegs(face=Leg(features=holes(50.0, leg="f")))
    part = Part(mark="F1", length_mm=300.0, section=section, legs=legs, ends=FlatEnds())
    for code in ("us", "eu"):
        for quantity in ("leg", "thickness", "straightness"):
            found = allowed(part, quantity, 100.0, shop=SHOP, code=code)
            assert (found.text, found.trust) == ("", "none")
    rows = {row[1]: row for row in Rows(render(Sheet(part=part, code="eu"))).rows}
    assert rows["f1 from the lower edge"][2] == "63.5 mm"
    assert "legs square to each other" not in rows


@settings(max_examples=25, deadline=None)
@given(parts())
def test_every_dimension_has_one_number_and_every_hole_is_measured(part):
    text = render(Sheet(part=part, code="us" if part.units == "inch" else "eu"))
    found = Rows(text)
    numbered = [row for row in found.rows if row[0] != "No."]
    assert [row[0] for row in numbered] == [str(n) for n in range(1, len(numbered) + 1)]
    listed = [d for leg in leg_names(part) for d in dimensions(part, leg)]
    assert len(listed) == len(numbered)
    placed = [n for n, d in enumerate(listed, start=1) if d.at is not None]
    seen = numbers_of(found.balloons)
    assert sorted(seen) == sorted(set(seen))
    assert set(seen) <= set(placed)
    if len(placed) < 60:
        assert seen
        assert set(placed) == set(seen)
    for leg in leg_names(part):
        along = [
            d
            for d in dimensions(part, leg)
            if d.quantity in ("end-distance", "spacing", "group-spacing")
        ]
        made = [f for f in leg_of(part, leg).features if isinstance(f, Hole | Slot)]
        assert len(along) == len(made)


@settings(max_examples=25, deadline=None)
@given(parts())
def test_the_chain_of_each_line_adds_up_to_the_place_of_its_last_hole(part):
    for leg in leg_names(part):
        at, ends = 0.0, []
        for d in dimensions(part, leg):
            if d.quantity == "end-distance":
                ends.append(at)
                at = d.size_mm
            elif d.quantity in ("spacing", "group-spacing"):
                assert (d.size_mm > GROUP_MM) is (d.quantity == "group-spacing")
                at += d.size_mm
        ends.append(at)
        rows = {}
        for f in leg_of(part, leg).features:
            if isinstance(f, Hole | Slot):
                rows.setdefault(f.y_mm, []).append(f.x_mm)
        last = [max(xs) for _, xs in sorted(rows.items())]
        assert ends[1:] == [pytest.approx(x, abs=1e-4) for x in last] or not rows


def test_the_nominal_is_in_the_author_s_units():
    part = inch(clip(a=holes(31.75)))
    rows = {row[1]: row[2] for row in Rows(render(Sheet(part=part, code="us"))).rows}
    assert rows["a1 from the start end"] == f"{length_text(31.75, 'inch')} in."


HERE = """\
units mm
part W1 { section L100x100x10  length 300  grade S355J2  leg a { holes 22 gauge 60 at 50, 150 } }
part W2 { section L100x100x10  length 300  grade S355J2  leg a { holes 22 gauge 60 at 50, 350 } }
"""


@pytest.fixture
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "w.bmk").write_text(HERE)
    return tmp_path


def run(*args):
    return CliRunner().invoke(main, ["inspect", *args])


def test_the_command_writes_one_sheet_a_part_and_none_of_a_faulty_one(here):
    done = run("w.bmk", "--out", "sheets")
    assert done.exit_code == 1
    assert "1 of 2 sheets written in sheets" in done.output
    assert "not written: W2: it has errors" in done.output
    assert CAUTION in done.output
    assert [p.name for p in (here / "sheets").iterdir()] == ["W1.inspect.html"]
    first = (here / "sheets" / "W1.inspect.html").read_bytes()
    assert run("w.bmk", "W1", "--out", "again").output.startswith("1 of 1 sheets written in again")
    assert (here / "again" / "W1.inspect.html").read_bytes() == first


def test_a_mark_that_is_not_there_is_said(here):
    done = run("w.bmk", "W9", "--out", "sheets")
    assert done.exit_code == 2
    assert "there is no part W9 in w.bmk; there are: W1, W2" in done.output
    assert not (here / "sheets").exists()


def test_the_shop_s_own_tolerances_come_first(here):
    (here / "backmark.toml").write_text(
        '[tolerances]\nclass = 2\nspacing = "0.8mm"\ngauge = "1/32in"\n'
        'end-distance = { minus = "0mm", plus = "1.5mm" }\n'
    )
    assert run("w.bmk", "W1", "--out", "sheets").exit_code == 0
    text = (here / "sheets" / "W1.inspect.html").read_text(encoding="utf-8")
    rows = {row[1]: row[3] for row in Rows(text).rows}
    assert rows["a1 to a2"] == "±0.8 mm"
    assert rows["a1, a2 from the heel"] == "±1/32 in."
    assert rows["a1 from the start end"] == "0 / +1.5 mm"
    assert rows["length over all"] == "±2.03 mm"
    assert "[tolerances] in backmark.toml; set by the shop" in text


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ("tolerances = 3", "tolerances is 3; it is a table, [tolerances]"),
        ("[tolerances]\nclass = 3", "class is 3; it takes 1 or 2, the classes of EN 1090-2"),
        ("[tolerances]\nclass = true", "class is True; it takes 1 or 2"),
        ('[tolerances]\nholes = "1mm"', "there is no setting 'holes'; there are class, length"),
        ('[tolerances]\nspacing = "1"', "'1' does not name its unit: write it like 90mm"),
        ("[tolerances]\nspacing = 1", "spacing is 1; it takes text like"),
        ('[tolerances]\nspacing = "0mm"', "no size is made without any deviation"),
        ('[tolerances]\nspacing = "-1mm"', "spacing is '-1mm'"),
        ('[tolerances]\nspacing = { minus = "1mm" }', "it takes text like"),
        ('[tolerances]\nspacing = { minus = "1mm", plus = 2 }', "it takes text like"),
    ],
)
def test_settings_that_are_not_understood_are_said_and_nothing_is_written(here, line, sentence):
    (here / "backmark.toml").write_text(line + "\n")
    done = run("w.bmk", "W1", "--out", "sheets")
    assert done.exit_code == 1
    assert sentence in done.output
    assert "backmark.toml:" in done.output
    assert "not written: everything: the settings file has errors" in done.output
    assert not (here / "sheets").exists()


def test_every_quantity_that_a_shop_may_set_is_measured_somewhere():
    path = ROOT / "translator" / "pages" / "_dimensions.py"
    asked = set(re.findall(r'"([a-z-]+)"', path.read_text(encoding="utf-8")))
    assert set(QUANTITIES) - asked == set()


def test_hostile_texts_stay_texts():
    bad = '"><script>alert(1)</script>\u202e'
    part = clip(a=holes(50.0)).model_copy(
        update={"mark": bad, "title": bad, "grade": bad, "revision": bad}
    )
    text = render(Sheet(part=part, code="eu"))
    assert "<script" not in text
    assert "\u202e" not in text
    assert "script-src 'none'" in text
    assert text.count("&lt;script&gt;alert(1)&lt;/script&gt;\\u202e") >= 5
