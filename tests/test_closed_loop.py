"""The closed loop: what was written is read back, and any difference is found and named."""

import re

import pytest
from dense_parts import dense_parts
from dxf_parts import BEAM_CLIP, COPED, EXAMPLES, STRAP
from hypothesis import HealthCheck, given, settings
from strategies import parts

from translator.batch import closed_loop
from translator.batch.outputs import outputs, written
from translator.commands import main
from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.emitters.dxf import _view
from translator.model import (
    AngleLegs,
    Cope,
    Leg,
    Placed,
    Slot,
    Stamp,
    leg_names,
)
from translator.source import whole_file

SETTINGS = Conventions(
    y_datum="named-edge",
    u_view_bottom="toe",
    arc_sign="plus-left",
    mitre_sign="plus-left",
    flange_cut_view="u",
)
FORMATS = {emitter.name: emitter for emitter in emitters()}


def made(part, name):
    return outputs(part, part.mark, FORMATS[name], EmitOptions(conventions=SETTINGS))


def differences(part, name, files):
    return list(closed_loop.differences(part, name, files, SETTINGS))


def changed(part, **fields):
    return type(part)(**{n: fields.get(n, getattr(part, n)) for n in type(part).model_fields})


@pytest.mark.parametrize("name", ["dxf", "json", "bmk", "nc"])
@pytest.mark.parametrize("part", EXAMPLES, ids=lambda part: part.mark)
def test_what_is_written_is_the_part(part, name):
    assert differences(part, name, made(part, name)) == []


def test_crowded_parts_come_back():
    for part in dense_parts(4, seed=5):
        assert differences(part, "dxf", made(part, "dxf")) == []


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(parts())
def test_any_drawing_is_the_part(part):
    assert differences(part, "dxf", made(part, "dxf")) == []


# --- any difference is found ---------------------------------------------------------------


def moved(part, leg, index, **fields):
    """Return the part with one feature of a leg changed."""
    own = getattr(part.legs, leg)
    features = list(own.features)
    old = features[index]
    values = {n: fields.get(n, getattr(old, n)) for n in type(old).model_fields}
    features[index] = type(old)(**values)
    legs = {name: getattr(part.legs, name) for name in leg_names(part)}
    legs[leg] = Leg(features=tuple(features), trims=own.trims)
    return changed(part, legs=type(part.legs)(**legs))


CHANGES = {
    "a hole moved along": (COPED, "a", 0, {"x_mm": 90.002}, "hole a1 is drawn 0.0020 mm off"),
    "a hole moved across": (COPED, "a", 0, {"y_mm": 90.002}, "hole a1 is drawn 0.0020 mm off"),
    "a hole larger": (COPED, "a", 0, {"diameter_mm": 22.5}, "hole a1 is drawn 0.5000 mm off"),
    "a hole through": (COPED, "a", 1, {"depth_mm": None}, "hole a2 is drawn as another kind"),
    "a slot turned the other way": (COPED, "a", 5, {"angle_deg": -45.0}, "slot a6 is drawn"),
    "a slot longer": (COPED, "a", 5, {"length_mm": 60.01}, "slot a6 is drawn"),
    "a mark moved": (COPED, "b", 2, {"x_mm": 250.01}, "centre mark b3 is drawn 0.0100 mm off"),
    "another text": (COPED, "b", 3, {"text": "K4"}, "stamp b4 says 'K3/é', not 'K4'"),
    "a text turned": (COPED, "b", 3, {"angle_deg": -20.0}, "stamp b4 is drawn"),
    "a line of another kind": (
        COPED,
        "b",
        4,
        {"method": "scribe"},
        "scribe b5 is drawn as another",
    ),
    "a line closed": (COPED, "b", 5, {"closed": False}, "scribe b6 is drawn"),
}


@pytest.mark.parametrize("case", CHANGES)
def test_a_changed_feature_is_named(case):
    part, leg, index, fields, message = CHANGES[case]
    found = differences(moved(part, leg, index, **fields), "dxf", made(part, "dxf"))
    assert any(message in text for text in found), found
    assert all(f"leg-{leg}.dxf, read back, differs" in text for text in found)


def test_a_changed_outline_and_a_missing_feature_are_named():
    trims = (Cope(end="start", side="toe", along_mm=60.0, across_mm=50.0, radius_mm=20.002),)
    other = changed(COPED, legs=AngleLegs(a=Leg(trims=trims), b=COPED.legs.b))
    found = differences(other, "dxf", made(COPED, "dxf"))
    assert "the outline is drawn" in found[0]
    assert any("something on layer HOLE-THROUGH is drawn and not in the part" in t for t in found)
    found = differences(COPED, "dxf", made(other, "dxf"))
    assert any("opening a7 is not drawn" in text for text in found)


def edited(files, old, new, count=1):
    """Return files with some text replaced in the first."""
    (name, data), *others = files
    assert data.count(old) >= 1
    return ((name, data.replace(old, new, count)), *others)


def test_a_false_dimension_is_named():
    files = made(STRAP, "dxf")
    # The letters of the ordinate of f3, at 150.
    said = edited(files, b"  1\n150\n", b"  1\n151\n")
    assert differences(STRAP, "dxf", said) == [
        (
            "F1.face.dxf, read back, differs from the part: a dimension says 151 and measures"
            " 150.0000 mm"
        )
    ]
    nonsense = edited(files, b"  1\n150\n", b"  1\nabout\n")
    assert "says 'about', which is no length" in differences(STRAP, "dxf", nonsense)[0]


def test_a_place_without_dimension_is_named():
    other = moved(BEAM_CLIP, "a", 1, x_mm=110.0)
    found = differences(other, "dxf", made(BEAM_CLIP, "dxf"))
    assert any("110 mm along the piece has no dimension" in text for text in found)


def test_another_unit_and_a_broken_file_are_named():
    files = made(STRAP, "dxf")
    inches = edited(files, b"$INSUNITS\n 70\n4\n", b"$INSUNITS\n 70\n1\n")
    assert differences(STRAP, "dxf", inches) == [
        "F1.face.dxf, read back, differs from the part: its unit is not the mm"
    ]
    assert "it cannot be read" in differences(STRAP, "dxf", ((files[0][0], b"no drawing"),))[0]
    assert "it cannot be read" in differences(STRAP, "dxf", ((files[0][0], b"\xff\xfe"),))[0]


def test_a_wrong_hand_is_named(monkeypatch):
    monkeypatch.setattr(_view, "spot", lambda _leg, x, y: _view.Spot(x, y))
    found = differences(BEAM_CLIP, "dxf", made(BEAM_CLIP, "dxf"))
    assert found
    assert all(text.startswith("C12.leg-b.dxf") for text in found)


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        (rb"v    90.00u    90.00", b"v    90.02u    90.00", "x of hole a1 is 90.0200 mm, not 90.0"),
        (rb"  22.00", b"  22.02", "mm, not 22.0000 mm"),
        (rb"  480.00", b"  480.05", "the length is 480.05"),
    ],
    ids=["place", "size", "length"],
)
def test_a_changed_nc_file_is_named(old, new, message):
    part = changed(
        COPED, legs=AngleLegs(a=Leg(features=COPED.legs.a.features[:1])), ends=type(COPED.ends)()
    )
    (name, data) = made(part, "nc")[0]
    pattern = re.sub(rb" +", rb" +", old)
    assert re.search(pattern, data), data
    found = differences(part, "nc", ((name, re.sub(pattern, new, data, count=1)),))
    assert any(message in text for text in found), found


def test_a_changed_document_and_text_are_named():
    files = made(STRAP, "bmk")
    found = differences(STRAP, "bmk", edited(files, b"quantity 8", b"quantity 9"))
    assert found == ["F1.bmk, read back, differs from the part: quantity is 9, not 8"]
    found = differences(changed(STRAP, quantity=9), "json", made(STRAP, "json"))
    assert found == ["F1.part.json, read back, differs from the part: quantity is 8, not 9"]
    found = differences(STRAP, "json", (("F1.part.json", b"{}"),))
    assert len(found) == 1


def test_a_format_without_a_reader_has_no_differences():
    assert differences(STRAP, "svg", (("F1.svg", b"anything"),)) == []
    assert not closed_loop.can_read_back("svg")
    assert closed_loop.can_read_back("dxf")


def test_a_difference_is_an_error_and_no_file(monkeypatch):
    placed = Placed(part=BEAM_CLIP, places={"": whole_file("clips.bmk")})
    options = EmitOptions(conventions=SETTINGS)
    files, found = written(placed, "C12", FORMATS["dxf"], options, verify=True)
    assert len(files) == 2
    monkeypatch.setattr(_view, "turned", lambda _leg, degrees: degrees + 30.0)
    files, found = written(placed, "C12", FORMATS["dxf"], options, verify=True)
    assert files == ()
    assert {(f.rule, f.severity.value, f.mark) for f in found} == {
        ("written-differs", "error", "C12")
    }
    # Without the check the wrong drawing would have gone out.
    files, found = written(placed, "C12", FORMATS["dxf"], options)
    assert len(files) == 2


# --- the command ---------------------------------------------------------------------------

SOURCE = """units mm
part F1 "strap" {{
  section FB 100x10
  length 220
  grade S275JR
  face {{ holes 22 gauge 50 at 60, 150 {more} }}
}}
"""


def run(*arguments):
    with pytest.raises(SystemExit) as end:
        main([*map(str, arguments)])
    return end.value.code


def test_the_command_writes_what_comes_back(tmp_path, capsys):
    source, out = tmp_path / "in.bmk", tmp_path / "deep" / "out"
    source.write_text(SOURCE.format(more=""), encoding="utf-8")
    assert run("translate", source, "--to", "json,dxf", "--out", out, "--verify") == 0
    assert sorted(p.name for p in out.iterdir()) == [
        "F1.face.dxf",
        "F1.part.json",
        "index.json",
    ]
    assert "2 files of 1 part made" in capsys.readouterr().out


def test_on_a_difference_nothing_is_left_on_the_disk(tmp_path, capsys, monkeypatch):
    source, out = tmp_path / "in.bmk", tmp_path / "deep" / "out"
    more = "slots 18 x 40 at 30deg gauge 50 at 100"
    source.write_text(SOURCE.format(more=more), encoding="utf-8")
    monkeypatch.setattr(_view, "turned", lambda _leg, degrees: -degrees)
    assert run("translate", source, "--to", "json,dxf", "--out", out, "--verify") == 1
    assert not (tmp_path / "deep").exists()
    said = capsys.readouterr().out
    assert "slot f3 is drawn" in said
    assert "[written-differs]" in said
    assert "1 part; no file made" in said


def test_a_folder_that_was_there_stays(tmp_path, monkeypatch):
    source, out = tmp_path / "in.bmk", tmp_path / "out"
    out.mkdir()
    (out / "F1.face.dxf").write_text("of yesterday", encoding="utf-8")
    more = "slots 18 x 40 at 30deg gauge 50 at 100"
    source.write_text(SOURCE.format(more=more), encoding="utf-8")
    monkeypatch.setattr(_view, "turned", lambda _leg, degrees: -degrees)
    assert run("translate", source, "--to", "dxf", "--out", out, "--verify") == 1
    assert [p.read_text(encoding="utf-8") for p in out.iterdir()] == ["of yesterday"]


def test_kinds_of_features_the_loop_must_know():
    """If the model gets another kind, the loop must learn it too."""
    kinds = {
        type(f) for p in EXAMPLES for leg in leg_names(p) for f in getattr(p.legs, leg).features
    }
    assert {Slot, Stamp} < kinds
    assert len(kinds) == 6
