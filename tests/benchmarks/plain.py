"""The same work written the obvious way, with the same libraries: what the benchmarks compare with.

    python tests/benchmarks/plain.py PARTS LISTS OUT

Reads each part document with json and pydantic and writes it again, and draws each leg with
``ezdxf.new(setup=True)``: holes, slots and outline from the document, every dimension rendered by
the library. What else stands on the sheet (where each dimension goes, the words, the lines of the
table) it is told by the lists, so it has less to do than the program it is compared with. It checks
no rule.
"""

import json
import math
import sys
from pathlib import Path
from typing import Annotated, Any, Literal

import ezdxf
from pydantic import BaseModel, ConfigDict, Field

INCH = 25.4


class Model(BaseModel):
    model_config = ConfigDict(extra="allow")


class Vertex(Model):
    x_mm: float
    y_mm: float
    bulge: float = 0.0


class Hole(Model):
    kind: Literal["hole"]
    id: str
    x_mm: float
    y_mm: float
    diameter_mm: Annotated[float, Field(gt=0)]
    bolt: str | None = None


class Slot(Model):
    kind: Literal["slot"]
    id: str
    x_mm: float
    y_mm: float
    width_mm: Annotated[float, Field(gt=0)]
    length_mm: Annotated[float, Field(gt=0)]
    angle_deg: float = 0.0
    bolt: str | None = None


class Stamp(Model):
    kind: Literal["stamp"]
    id: str
    text: str | None = None
    x_mm: float
    from_heel_mm: float
    height_mm: float
    angle_deg: float = 0.0


class Scribe(Model):
    kind: Literal["scribe"]
    id: str
    method: str = "scribe"
    closed: bool = False
    line: list[Vertex]


class Leg(Model):
    features: list[Annotated[Hole | Slot | Stamp | Scribe, Field(discriminator="kind")]] = []
    trims: list[dict[str, Any]] = []


class Part(BaseModel):
    model_config = ConfigDict(extra="allow")
    mark: str
    quantity: int
    grade: str | None = None
    length_mm: Annotated[float, Field(gt=0)]
    section: dict[str, Any]
    legs: dict[str, Leg]
    units: Literal["mm", "inch"] = "mm"


class Computed(BaseModel):
    model_config = ConfigDict(extra="allow")
    legs: dict[str, dict[str, Any]]


class Document(BaseModel):
    model_config = ConfigDict(extra="allow")
    format: Literal["backmark/part"]
    version: str
    part: Part
    computed: Computed


def slot_ring(slot: Slot, sign: float, unit: float) -> list[tuple[float, float, float]]:
    angle = math.radians(slot.angle_deg) * sign
    half, r = (slot.length_mm - slot.width_mm) / 2 / unit, slot.width_mm / 2 / unit
    x, y = slot.x_mm / unit, slot.y_mm * sign / unit
    ux, uy = math.cos(angle), math.sin(angle)
    return [
        (x - half * ux + r * uy, y - half * uy - r * ux, 0.0),
        (x + half * ux + r * uy, y + half * uy - r * ux, 1.0),
        (x + half * ux - r * uy, y + half * uy + r * ux, 0.0),
        (x - half * ux - r * uy, y - half * uy + r * ux, 1.0),
    ]


def dimension(space: Any, told: dict[str, Any], letter: float) -> None:
    style = {"dimtxt": letter, "dimasz": letter, "dimexe": letter / 2, "dimexo": letter / 4}
    if told["kind"] == "linear":
        made = space.add_linear_dim(
            base=told["base"], p1=told["p1"], p2=told["p2"], angle=told["angle"],
            text=told["text"], override=style,
        )  # fmt: skip
    else:
        add = space.add_ordinate_x_dim if told["kind"] == "x" else space.add_ordinate_y_dim
        at, end = told["p1"], told["p2"]
        made = add(
            feature_location=at, offset=(end[0] - at[0], end[1] - at[1]),
            text=told["text"], override=style,
        )  # fmt: skip
    made.render()


def draw(document: Document, leg: str, told: dict[str, Any], path: Path) -> None:
    part = document.part
    unit = INCH if part.units == "inch" else 1.0
    sign = -1.0 if leg == "b" else 1.0
    drawing = ezdxf.new("R2010", setup=True)
    drawing.header["$INSUNITS"] = 1 if part.units == "inch" else 4
    for name in told["layers"]:
        drawing.layers.add(name)
    space = drawing.modelspace()
    ring = [
        (v["x_mm"] / unit, v["y_mm"] * sign / unit, v.get("bulge", 0.0) * sign)
        for v in document.computed.legs[leg]["outline"]
    ]
    attribs = {"layer": "LEG-OUTLINE"}
    space.add_lwpolyline(ring, format="xyb", close=True, dxfattribs=attribs)
    for feature in part.legs[leg].features:
        if isinstance(feature, Hole):
            centre = (feature.x_mm / unit, feature.y_mm * sign / unit)
            attribs = {"layer": "HOLE-THROUGH"}
            space.add_circle(centre, feature.diameter_mm / 2 / unit, dxfattribs=attribs)
        elif isinstance(feature, Slot):
            ring = slot_ring(feature, sign, unit)
            space.add_lwpolyline(ring, format="xyb", close=True, dxfattribs={"layer": "SLOT"})
        elif isinstance(feature, Scribe):
            line = [(v.x_mm / unit, v.y_mm * sign / unit, v.bulge * sign) for v in feature.line]
            attribs = {"layer": "SCRIBE"}
            space.add_lwpolyline(line, format="xyb", close=feature.closed, dxfattribs=attribs)
    for layer, start, end in told["lines"]:
        space.add_line(start, end, dxfattribs={"layer": layer})
    for layer, text, at, height, turn in told["texts"]:
        attribs = {"layer": layer, "height": height, "rotation": turn}
        space.add_text(text, dxfattribs=attribs).set_placement(at)
    for each in told["dimensions"]:
        dimension(space, each, told["letter"])
    drawing.saveas(path)


def main(parts: Path, lists: Path, out: Path) -> None:
    out.mkdir(parents=True, exist_ok=True)
    for path in sorted(parts.glob("*.part.json")):
        document = Document.model_validate(json.loads(path.read_text(encoding="utf-8")))
        mark = document.part.mark
        text = json.dumps(document.model_dump(), indent=2)
        (out / f"{mark}.part.json").write_text(text, encoding="utf-8")
        for leg in document.part.legs:
            name = leg if leg == "face" else f"leg-{leg}"
            told = json.loads((lists / f"{mark}.{name}.json").read_text(encoding="utf-8"))
            draw(document, leg, told, out / f"{mark}.{name}.dxf")


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:4]))
