"""Draw the README's pictures from the tool's own output: samples -> DXF -> SVG, and one sheet.

``fresh.py`` writes and checks them. The letters of the leg drawings come from the fonts of the
machine, so what is compared is the drawing each was made from: its SHA-256 stands in the picture.
"""  # noqa: INP001 - a script, no package

import hashlib
import io
from collections.abc import Callable
from pathlib import Path

from ezdxf import read
from ezdxf.addons.drawing import Frontend, RenderContext, layout
from ezdxf.addons.drawing.config import BackgroundPolicy, Configuration
from ezdxf.addons.drawing.svg import SVGBackend

from translator.conventions import Conventions
from translator.emitters import EmitOptions, emitters
from translator.model import LegName, Part
from translator.readers import readers
from translator.source import Source

TOP = Path(__file__).parent.parent
WANTED: tuple[tuple[str, str, LegName], ...] = (
    ("clips.bmk", "C12", "b"),
    ("seats.bmk", "C22", "a"),
    ("flats.bmk", "F42", "face"),
)
SHEETS = (("bracing.bmk", "B7"),)
PAGE_MM = 240.0


def part_of(name: str, mark: str) -> Part:
    """Read one part of the sample folder."""
    path = TOP / "samples" / "tern-quay" / name
    reader = next(r for r in readers() if r.name == "bmk")
    reading = reader.lower(reader.parse(Source(path=name, data=path.read_bytes())), Conventions())
    return next(p.part for p in reading.parts if p.part.mark == mark)


def leg_picture(name: str, mark: str, leg: LegName) -> Callable[[str], str]:
    """Return what draws the DXF of one leg as SVG, unless a picture of that very DXF is there."""

    def fresh(now: str) -> str:
        emit = next(e.emit for e in emitters() if e.name == "dxf")
        data = emit(part_of(name, mark), EmitOptions(leg=leg))
        note = f"<!-- drawn from the DXF with SHA-256 {hashlib.sha256(data).hexdigest()} -->"
        return now if note in now else f"{painted(data)}\n{note}\n"

    return fresh


def painted(data: bytes) -> str:
    """Draw a DXF file as SVG, as an outside reader sees it."""
    drawing = read(io.StringIO(data.decode()))
    backend = SVGBackend()
    config = Configuration(background_policy=BackgroundPolicy.WHITE)
    Frontend(RenderContext(drawing), backend, config=config).draw_layout(drawing.modelspace())
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    height = PAGE_MM * (high[1] - low[1]) / (high[0] - low[0])
    page = layout.Page(PAGE_MM, height, layout.Units.mm, margins=layout.Margins.all(2))
    # An inch drawing is 25 times smaller in its own units: fit both kinds to the page.
    return backend.get_string(page, settings=layout.Settings(fit_page=True))


def sheet_picture(name: str, mark: str) -> Callable[[str], str]:
    """Return what draws the unfolded sheet of a part; its bytes are the same anywhere."""

    def fresh(_now: str) -> str:
        emit = next(e.emit for e in emitters() if e.name == "svg")
        return emit(part_of(name, mark), EmitOptions()).decode()

    return fresh


def _suffix(leg: LegName) -> str:
    return "face" if leg == "face" else f"leg-{leg}"


DRAWN: tuple[tuple[str, Callable[[str], str]], ...] = (
    *(
        (f"samples/pictures/{mark}.{_suffix(leg)}.svg", leg_picture(name, mark, leg))
        for name, mark, leg in WANTED
    ),
    *((f"samples/pictures/{mark}.sheet.svg", sheet_picture(name, mark)) for name, mark in SHEETS),
)
