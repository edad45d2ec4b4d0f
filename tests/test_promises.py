"""Promises that hold for every format: any bytes are survived, spellings are of one thing.

The formats are found by walking, so a new reader comes under these tests by itself.
"""

import random
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from strategies import parts

from translator.conventions import Conventions, settle
from translator.emitters import EmitOptions, emitters
from translator.findings import Severity
from translator.geometry.outline import leg_outline
from translator.model import Part, Stamp, leg_names, leg_of
from translator.readers import Reader, readers
from translator.source import Source

SAMPLES = Path(__file__).parent.parent / "samples"
RUNS = 1000
"""Random and mutated inputs for each format."""
SLOWEST_S = 1.0
"""CPU time that no input of a sample's size may take."""
EMITTERS = {emitter.name: emitter for emitter in emitters()}
READERS = {reader.name: reader for reader in readers()}
SETTLED = Conventions(u_view_bottom="toe", arc_sign="plus-left", mitre_sign="plus-left")
SIGNS = (b"{", b"}", b'"', b"\n", b"-", b",", b"9" * 30, b"@", b"\0")
FORMATS = pytest.mark.parametrize("reader", readers(), ids=lambda r: r.name)
MANY = settings(
    max_examples=200,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def seeds(reader: Reader) -> list[bytes]:
    suffix = {"bmk": "*.bmk", "json": "*.part.json", "nc": "*.nc*"}[reader.name]
    found = [path.read_bytes() for path in sorted(SAMPLES.rglob(suffix))]
    assert len(found) >= 3
    return found


def mutated(data: bytes, dice: random.Random) -> bytes:
    """Change a few places of a sound file the way transfers and editors do."""
    out = bytearray(data)
    for _ in range(dice.randint(1, 4)):
        at, end = sorted(dice.randrange(len(out) + 1) for _ in range(2))
        end = min(end, at + 40)
        match dice.randrange(6):
            case 0:
                del out[at:end]
            case 1:
                out[at:at] = out[at:end]
            case 2:
                out[at:end] = bytes(dice.randrange(256) for _ in range(end - at))
            case 3:
                out[at:at] = dice.choice(
                    (b"{", b"}", b'"', b"\n", b"-", b",", b"9" * 30, b"@", b"\0")
                )
            case 4:
                del out[at:]
            case _:
                lines = bytes(out).split(b"\n")
                dice.shuffle(lines)
                out = bytearray(b"\n".join(lines))
        if not out:
            break
    return bytes(out)


def noise(dice: random.Random) -> bytes:
    return bytes(dice.randrange(256) for _ in range(dice.randrange(400)))


def read(reader: Reader, data: bytes) -> tuple[list[Part], list[str]]:
    """Take one file down the whole reading road, as a delivery of its own."""
    source = Source(path=f"fuzz.{reader.name}", data=data)
    tree = reader.parse(source)
    evidence = reader.evidence(tree)
    conventions = Conventions()
    if evidence is not None:
        conventions = settle(conventions, [evidence]).by_writer[evidence.writer]
    reading = reader.lower(tree, conventions)
    said = [f.message for f in reading.findings] + ([reading.not_ours] if reading.not_ours else [])
    return [placed.part for placed in reading.parts], said


def holds_families(reader: Reader, data: bytes) -> bool:
    """Tell whether a file gives no part because it keeps families for others, and says so."""
    return reader.name == "bmk" and b"family" in data.lower()


def survive(reader: Reader, inputs: Iterator[bytes]) -> int:
    said = 0
    for number, data in enumerate(inputs):
        start = time.process_time()
        found, told = read(reader, data)
        assert time.process_time() - start < SLOWEST_S, (number, data)
        # A file that gives no part must say why; silence would be a dropped part.
        assert found or told or holds_families(reader, data), (number, data)
        said += bool(told)
    return said


@FORMATS
def test_random_bytes_are_survived(reader: Reader) -> None:
    dice = random.Random(7)
    assert survive(reader, (noise(dice) for _ in range(RUNS))) > RUNS // 2


@FORMATS
def test_mutated_samples_are_survived(reader: Reader) -> None:
    dice = random.Random(11)
    sound = seeds(reader)
    cases = (mutated(dice.choice(sound), dice) for _ in range(RUNS))
    assert survive(reader, cases) > RUNS // 2


def again(part: Part, name: str) -> Part:
    """Write a part in one format and read it back."""
    data = EMITTERS[name].emit(part, EmitOptions(conventions=SETTLED))
    reader = READERS[name]
    reading = reader.lower(
        reader.parse(Source(path=f"x{EMITTERS[name].suffix}", data=data)), SETTLED
    )
    assert [f.message for f in reading.findings if f.severity is Severity.ERROR] == []
    (placed,) = reading.parts
    return placed.part


@MANY
@given(parts())
def test_text_and_document_spell_one_thing(part: Part) -> None:
    assert again(again(again(part, "bmk"), "json"), "bmk") == part


@MANY
@given(parts())
def test_a_document_read_back_is_the_part(part: Part) -> None:
    assert again(part, "json") == part


@MANY
@given(parts(nc=True))
def test_nc_and_document_agree_after_one_rounding(part: Part) -> None:
    # Left out: a mark that NC knows as "not said", and letters that spell the mark.
    features = [f for leg in leg_names(part) for f in leg_of(part, leg).features]
    assume(part.mark != "-")
    assume(not any(isinstance(f, Stamp) and f.text == part.mark for f in features))
    first = again(part, "nc")
    second = again(again(first, "json"), "nc")
    assert again(second, "json") == second == again(second, "nc")
    # A trim that takes the outermost point moves NC's x = 0, which is that of the finished piece.
    shift = leftmost(part) - leftmost(second)
    for leg in leg_names(part):
        old, new = leg_outline(part, leg).contour, leg_outline(second, leg).contour
        assert len(old) == len(new)
        for p, q in zip(old, new, strict=True):
            assert abs(p.x_mm - q.x_mm - shift) <= 0.0301
            assert abs(p.y_mm - q.y_mm) <= 0.0301


def leftmost(part: Part) -> float:
    return min(v.x_mm for leg in leg_names(part) for v in leg_outline(part, leg).contour)
