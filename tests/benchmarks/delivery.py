"""Makes the folders that the benchmarks read: as many different pieces as wished.

    python tests/benchmarks/delivery.py FOLDER 2000 json nc

writes ``FOLDER/json`` (part documents) and ``FOLDER/nc`` (the same parts as detailer files, with
the settings they are read by). The parts are told as part text and taken down the road, so the
folders hold what this tool itself writes. The same count gives the same bytes on any machine.
"""

import random
import sys
from collections.abc import Iterator
from pathlib import Path

from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.geometry.mass import mass_per_metre_kg
from translator.geometry.sections import section_perimeter_mm
from translator.model import Part, Stated
from translator.readers import readers
from translator.source import Source

AT_ONCE = 200
"""Parts that are read from one text: what keeps the memory small."""

SETTINGS = """\
[nc]
y_datum = "named-edge"
u_view_bottom = "toe"
slot_reference = "first-centre"
slot_length = "centres"
arc_sign = "plus-left"
mitre_sign = "plus-left"
flange_cut_view = "u"
nominal_inch = "yes"
"""
WRITTEN_WITH = Conventions(
    y_datum="named-edge",
    u_view_bottom="toe",
    slot_reference="first-centre",
    slot_length="centres",
    arc_sign="plus-left",
    mitre_sign="plus-left",
    flange_cut_view="u",
    nominal_inch="yes",
)

INCH_ANGLES = (
    ("L4x3-1/2x3/8", "2-1/2", "2"),
    ("L5x3-1/2x3/8", "3", "2"),
    ("L3x3x1/4", "1-3/4", "1-3/4"),
    ("L3-1/2x3-1/2x5/16", "2", "2"),
    ("L4x4x3/8", "2-1/2", "2-1/2"),
    ("L6x4x1/2", "3-1/2", "2-1/2"),
)
"""Section, and a gauge on each leg that a 3/4 in. bolt has room on."""

METRIC_ANGLES = (("L90x90x10", 50), ("L100x100x10", 55), ("L120x120x12", 65), ("L80x80x8", 45))
"""Section, and a gauge that an M16 has room on."""


def text_of(number: int) -> str:
    """Return one part as part text: a clip, brace, cleat, strap or gusset, by its number."""
    pick = random.Random(number)
    makers = (_clip, _cleat, _brace, _clip, _strap, _cleat, _brace, _gusset)
    return makers[number % len(makers)](number, pick)


def _clip(number: int, pick: random.Random) -> str:
    section, a, b = pick.choice(INCH_ANGLES)
    more, end = pick.randint(1, 6), pick.choice(("1-1/4", "1-1/2"))
    on_b = pick.choice(("holes bolt 3/4", "slots 13/16 x 1 across leg"))
    stamp = "stamp mark at 1 from heel 1/2 height 1/4" if more > 1 else ""
    return f"""part C{number} "beam clip" {{
  units-are-inch
  section {section}   length 2 * {end} + {more} * 3 + {pick.randint(0, 7)}/64   grade A36
  quantity {pick.randint(1, 40)}
  leg a {{ holes bolt 3/4  gauge {a}  at {end}, {more} @ 3 }}
  leg b {{ {on_b}  gauge {b}  at {end}, {more} @ 3   {stamp} }}
}}
"""


def _brace(number: int, pick: random.Random) -> str:
    section, a, _ = pick.choice(INCH_ANGLES[2:])
    angle = pick.choice(("", "mitre far 15deg from square, long at toe of leg a"))
    cut = pick.choice(
        (
            "",
            "cope start toe 2 long x 1 deep radius 1/2",
            "clip start toe 1 x 3/4",
        )
    )
    return f"""part B{number} "brace under the deck" {{
  units-are-inch
  section {section}   length {pick.randint(48, 200)} + {pick.randint(0, 15)}/16   grade A36
  quantity {pick.randint(1, 12)}
  {angle}
  leg a {{
    {cut}
    holes bolt 3/4  gauge {a}  at 3-1/2, 1 @ 3
    holes bolt 3/4  gauge {a}  at 3, 6 from far
  }}
  leg b {{ stamp mark at 12 from heel 1 height 1/2 }}
}}
"""


def _cleat(number: int, pick: random.Random) -> str:
    section, gauge = pick.choice(METRIC_ANGLES)
    more, pitch = pick.randint(1, 5), pick.choice((60, 70, 75))
    stamp = "stamp mark at 20 from heel 15 height 6" if more > 1 else ""
    return f"""part K{number} "web cleat" {{
  units-are-mm
  section {section}   length {80 + more * pitch + pick.randint(0, 30)}   grade S275JR
  quantity {pick.randint(1, 60)}
  leg a {{ holes bolt M16  gauge {gauge}  at 40, {more} @ {pitch}   {stamp} }}
  leg b {{ holes bolt M16  gauge {gauge}  at 40, {more} @ {pitch} }}
}}
"""


def _strap(number: int, pick: random.Random) -> str:
    width, thickness, middle = pick.choice((("4", "3/8", "2"), ("5", "1/2", "2-1/2")))
    return f"""part F{number} "strap, slotted at one end" {{
  units-are-inch
  section FB{width}x{thickness}   length {pick.randint(14, 60)} + {pick.randint(0, 31)}/32
  grade A36   quantity {pick.randint(1, 30)}
  face {{
    slots 13/16 x 1-7/8 along leg  gauge {middle}  at 2-1/2
    holes bolt 3/4  gauge {middle}  at 3, 6 from far
  }}
}}
"""


def _gusset(number: int, pick: random.Random) -> str:
    width = pick.choice((120, 150, 160))
    length = pick.randint(400, 700)
    corners = pick.choice(
        (
            "round start upper radius 25   round far upper radius 25",
            "clip start upper 30 x 20   clip far upper 30 x 20",
            "cope start upper 40 long x 25 deep radius 10",
        )
    )
    return f"""part G{number} "gusset strap" {{
  units-are-mm
  section FB {width}x10   length {length}   grade S275JR   quantity {pick.randint(1, 20)}
  face {{
    {corners}
    holes bolt M20  gauge {width // 2}  at 70, 140
    slots 18 x 38 at {pick.choice((30, 45, 60))}deg  gauge {width // 2}  at {length // 2}
    scribe from {length // 2 - 40}, 10 to {length // 2 + 40}, 10
    stamp mark at 85 from lower edge 12 height 8
  }}
}}
"""


def _texts(count: int) -> Iterator[bytes]:
    """Yield part text for parts by the hundred, those in inches and those in mm apart."""
    for start in range(0, count, AT_ONCE):
        told = [text_of(number) for number in range(start, min(start + AT_ONCE, count))]
        for unit in ("inch", "mm"):
            parts = [t.replace(f"  units-are-{unit}\n", "") for t in told if f"-are-{unit}\n" in t]
            head = f'units {unit}\norder "TQ-7"   drawing "E-{101 + start // AT_ONCE}"\n'
            yield (head + 'revision "A"\n' + "".join(parts)).encode()


def _with_figures(part: Part) -> Part:
    """Return a part that states mass and paint, as a detailer's files do."""
    stated = Stated(
        mass_per_metre_kg=round(mass_per_metre_kg(part.section), 2),
        paint_area_per_metre_m2=round(section_perimeter_mm(part.section) / 1000.0, 3),
    )
    return part.model_copy(update={"stated": stated})


def make(folder: Path, count: int, formats: tuple[str, ...]) -> None:
    """Write a folder of so many parts for each format, "json" or "nc"."""
    reader = next(reader for reader in readers() if reader.name == "bmk")
    made = [emitter for emitter in emitters() if emitter.name in formats]
    options = EmitOptions(conventions=WRITTEN_WITH)
    for emitter in made:
        (folder / emitter.name).mkdir(parents=True, exist_ok=True)
    if "nc" in formats:
        (folder / "nc" / "backmark.toml").write_text(SETTINGS, encoding="utf-8")
    total = 0
    for text in _texts(count):
        reading = reader.lower(reader.parse(Source(path="made.bmk", data=text)), Conventions())
        if reading.findings:
            raise SystemExit(f"{reading.findings[0].span}: {reading.findings[0].message}")
        for placed in reading.parts:
            total += 1
            part = _with_figures(placed.part)
            for emitter in made:
                path = folder / emitter.name / f"{part.mark}{emitter.suffix}"
                path.write_bytes(emitter.emit(part, options))
    if total != count:
        raise SystemExit(f"{total} parts came of {count} texts")


if __name__ == "__main__":
    make(Path(sys.argv[1]), int(sys.argv[2]), tuple(sys.argv[3:]))
