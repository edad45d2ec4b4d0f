"""Draw the README's pictures from the tool's own output: samples -> DXF -> SVG, and one sheet.

Run by hand after a drawing changes: ``python .ci/pictures.py``. The letters of the leg drawings
come from the fonts of the machine, so those are looked at, not compared byte by byte.
"""  # noqa: INP001 - a script, no package

import io
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
PICTURES = TOP / "samples" / "pictures"
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


def picture(part: Part, leg: LegName) -> str:
    """Draw the DXF of one leg as SVG."""
    emit = next(e.emit for e in emitters() if e.name == "dxf")
    drawing = read(io.StringIO(emit(part, EmitOptions(leg=leg)).decode()))
    backend = SVGBackend()
    config = Configuration(background_policy=BackgroundPolicy.WHITE)
    Frontend(RenderContext(drawing), backend, config=config).draw_layout(drawing.modelspace())
    low, high = drawing.header["$EXTMIN"], drawing.header["$EXTMAX"]
    height = PAGE_MM * (high[1] - low[1]) / (high[0] - low[0])
    page = layout.Page(PAGE_MM, height, layout.Units.mm, margins=layout.Margins.all(2))
    # An inch drawing is 25 times smaller in its own units: fit both kinds to the page.
    return backend.get_string(page, settings=layout.Settings(fit_page=True))


def main() -> None:
    """Write all pictures."""
    PICTURES.mkdir(exist_ok=True)
    for name, mark, leg in WANTED:
        suffix = "face" if leg == "face" else f"leg-{leg}"
        (PICTURES / f"{mark}.{suffix}.svg").write_text(picture(part_of(name, mark), leg) + "\n")
    sheet = next(e.emit for e in emitters() if e.name == "svg")
    for name, mark in SHEETS:
        (PICTURES / f"{mark}.sheet.svg").write_bytes(sheet(part_of(name, mark), EmitOptions()))


if __name__ == "__main__":
    main()
