"""The sample folders, swept: good parts are clean, each faulty file shows the fault it names.

Also the promise that part text, part JSON and NC are spellings of one thing, on every sample.
"""

import re
from pathlib import Path

import pytest

from translator.batch.configuration import Configurations
from translator.batch.discover import discover, load, reader_of
from translator.batch.outcome import Outcome
from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.errors import CannotRepresentError
from translator.findings import Severity
from translator.geometry.outline import leg_outline
from translator.model import Part, leg_names, leg_of
from translator.pipeline import Input, examine
from translator.readers import readers
from translator.source import Source

SAMPLES = Path(__file__).parent.parent / "samples"
GOOD = SAMPLES / "tern-quay"
FAULTY = sorted(p for p in (SAMPLES / "faulty").iterdir() if p.suffix != ".toml")
EMITTERS = {e.name: e for e in emitters()}
READERS = {r.name: r for r in readers()}
SETTLED = Conventions(u_view_bottom="toe", arc_sign="plus-left", mitre_sign="plus-left")


def look(path: Path) -> Outcome:
    shop = Configurations()
    found = discover([path], readers(), shop.is_output)
    assert not found.findings
    inputs = []
    for file in found.files:
        own = shop.of(file.folder)
        inputs.append(
            Input(
                source=load(file),
                reader=reader_of(file),
                conventions=own.conventions,
                practice=own.practice,
            )
        )
    return examine(inputs)


def again(part: Part, name: str) -> Part:
    """Write a part in one format and read it back."""
    data = EMITTERS[name].emit(part, EmitOptions(conventions=SETTLED))
    reader = READERS[name]
    source = Source(path=f"sample{EMITTERS[name].suffix}", data=data)
    reading = reader.lower(reader.parse(source), SETTLED)
    assert [f.message for f in reading.findings if f.severity is Severity.ERROR] == []
    (placed,) = reading.parts
    return placed.part


GOOD_OUTCOME = look(GOOD)
PARTS = [placed.part for placed in GOOD_OUTCOME.parts]
IDS = [part.mark for part in PARTS]


def test_tern_quay_is_large_and_varied() -> None:
    assert len(PARTS) >= 16
    kinds = {path.rsplit(".", 1)[-1] for path in GOOD_OUTCOME.verdict.files}
    assert kinds == {"bmk", "nc1", "json"}
    assert {part.units for part in PARTS} == {"mm", "inch"}
    assert {part.section.kind for part in PARTS} == {"angle", "flat"}
    assert any(part.length_mm > 3000 for part in PARTS)
    features = {
        f.kind for part in PARTS for leg in leg_names(part) for f in leg_of(part, leg).features
    }
    trims = {t.kind for part in PARTS for leg in leg_names(part) for t in leg_of(part, leg).trims}
    assert features >= {"hole", "slot", "stamp"}
    assert trims >= {"cope", "clip", "rounding"}


def test_tern_quay_has_no_finding_above_a_note() -> None:
    above = [f for f in GOOD_OUTCOME.verdict.findings if f.severity is not Severity.NOTE]
    assert [(f.span.path, f.rule, f.message) for f in above] == []
    assert GOOD_OUTCOME.refused == ("",) * len(PARTS)


def test_other_profiles_are_named_and_no_error() -> None:
    ((path, why),) = GOOD_OUTCOME.verdict.not_ours
    assert path.endswith("H57.nc1")
    assert why == "profile code I (I and H sections)"


def test_there_are_faulty_samples() -> None:
    assert len(FAULTY) >= 15


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.name)
def test_each_faulty_sample_shows_the_fault_it_names(path: Path) -> None:
    named = re.search(rb"shows: ([a-z0-9-]+) \(", path.read_bytes())
    assert named, "a faulty sample says what it shows"
    outcome = look(path)
    above = {f.rule for f in outcome.verdict.findings if f.severity is not Severity.NOTE}
    assert above == {named[1].decode()}


def test_the_faulty_folder_as_one_delivery_shows_the_same_faults() -> None:
    one_by_one = {
        (f.span.path, f.rule)
        for path in FAULTY
        for f in look(path).verdict.findings
        if f.severity is not Severity.NOTE
    }
    together = {
        (f.span.path, f.rule)
        for f in look(SAMPLES / "faulty").verdict.findings
        if f.severity is not Severity.NOTE
    }
    assert together == one_by_one


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_text_json_text_gives_an_equal_part(part: Part) -> None:
    assert again(again(again(part, "bmk"), "json"), "bmk") == part


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_json_twice_gives_an_equal_part_and_equal_bytes(part: Part) -> None:
    once = EMITTERS["json"].emit(part, EmitOptions())
    assert again(part, "json") == part
    assert EMITTERS["json"].emit(again(part, "json"), EmitOptions()) == once


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_nc_json_nc_json_gives_an_equal_part(part: Part) -> None:
    try:
        first = again(part, "nc")
    except CannotRepresentError as error:  # a sample that NC cannot carry would hide here
        pytest.fail(str(error))
    second = again(again(first, "json"), "nc")
    assert again(second, "json") == again(first, "json")
    assert near(first, part)


def near(read: Part, part: Part) -> bool:
    """Compare what NC carries: sizes, places and outlines within its 0.01 mm."""
    assert abs(read.length_mm - part.length_mm) <= 0.005 + 1e-9
    for leg in leg_names(part):
        ours, theirs = leg_of(part, leg).features, leg_of(read, leg).features
        assert [f.kind for f in theirs] == [f.kind for f in ours]
        for mine, other in zip(ours, theirs, strict=True):
            for field in ("x_mm", "y_mm", "diameter_mm", "width_mm", "length_mm", "from_heel_mm"):
                if hasattr(mine, field):
                    assert getattr(other, field) == pytest.approx(getattr(mine, field), abs=0.0101)
        contours = leg_outline(part, leg).contour, leg_outline(read, leg).contour
        for corner, other_corner in zip(*contours, strict=True):
            assert other_corner.x_mm == pytest.approx(corner.x_mm, abs=0.0151)
            assert other_corner.y_mm == pytest.approx(corner.y_mm, abs=0.0151)
            assert other_corner.bulge == pytest.approx(corner.bulge, abs=0.005)
    return True
