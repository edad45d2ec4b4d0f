"""Drawings read with the independent library: what they hold, and whether two hold the same.

    python tests/benchmarks/same_drawings.py lists DRAWINGS LISTS
    python tests/benchmarks/same_drawings.py same  DRAWINGS OTHERS

The first writes for each drawing where its dimensions, words and lines stand, for ``plain.py``. The
second compares two folders of drawings: outline, slots and lines of a scribe by their corners,
holes by centre and radius, dimensions by kind, measurement and text, and the words.
"""

import json
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import ezdxf

KINDS = {0: "linear", 6: "ordinate"}


def dimension_of(entity: Any) -> dict[str, Any]:
    d = entity.dxf
    if d.dimtype & 7 == 0:
        kind = "linear"
        points = {"base": d.defpoint, "p1": d.defpoint2, "p2": d.defpoint3}
    else:
        kind = "x" if d.dimtype & 64 else "y"
        points = {"p1": d.defpoint2, "p2": d.defpoint3}
    told = {name: (point.x, point.y) for name, point in points.items()}
    return {"kind": kind, **told, "angle": d.get("angle", 0.0), "text": d.text}


def lists(drawings: Path, out: Path) -> None:
    out.mkdir(parents=True, exist_ok=True)
    for path in sorted(drawings.glob("*.dxf")):
        space = ezdxf.readfile(path).modelspace()
        dimensions = [dimension_of(e) for e in space.query("DIMENSION")]
        texts = [
            (
                e.dxf.layer,
                e.dxf.text,
                (e.dxf.insert.x, e.dxf.insert.y),
                e.dxf.height,
                e.dxf.rotation,
            )
            for e in space.query("TEXT")
        ]
        lines = [
            (e.dxf.layer, (e.dxf.start.x, e.dxf.start.y), (e.dxf.end.x, e.dxf.end.y))
            for e in space.query("LINE")
        ]
        told = {
            "layers": sorted({e.dxf.layer for e in space}),
            "letter": max((t[3] for t in texts if t[0] == "NOTE"), default=3.5),
            "dimensions": dimensions,
            "texts": texts,
            "lines": lines,
        }
        (out / f"{path.stem}.json").write_text(json.dumps(told), encoding="utf-8")


def near(value: float) -> float:
    """Return a number to 0.0001; what it adds keeps whole 64ths away from the halves."""
    return round(value + 3.3e-5, 4) + 0.0


def ring(entity: Any) -> tuple[object, ...]:
    points = [tuple(map(near, p)) for p in entity.get_points("xyb")]
    return (entity.dxf.layer, entity.closed, tuple(sorted(points)))


def content(path: Path) -> Counter[object]:
    """Return what a drawing holds, numbers to 0.0001 of its unit."""
    found: Counter[object] = Counter()
    for entity in ezdxf.readfile(path).modelspace():
        kind, d = entity.dxftype(), entity.dxf
        if kind == "CIRCLE":
            found[kind, d.layer, *map(near, (d.center.x, d.center.y, d.radius))] += 1
        elif kind == "LWPOLYLINE":
            found[kind, ring(entity)] += 1
        elif kind == "DIMENSION":
            told = dimension_of(entity)
            along = {"x": 0, "y": 1}.get(told["kind"])
            size = entity.get_measurement() if along is None else told["p1"][along]
            found[kind, told["kind"], near(size), told["text"]] += 1
        elif kind == "TEXT":
            found[kind, d.layer, d.text] += 1
        elif kind == "LINE":
            found[kind, d.layer] += 1
    return found


def same(drawings: Path, others: Path) -> int:
    """Return how many drawings were compared; end with the first difference."""
    names = sorted(path.name for path in drawings.glob("*.dxf"))
    if not names or names != sorted(path.name for path in others.glob("*.dxf")):
        raise SystemExit("the folders hold other drawings")
    for name in names:
        one, other = content(drawings / name), content(others / name)
        if one != other:
            raise SystemExit(f"{name}: {list((one - other) | (other - one))[:4]}")
    return len(names)


if __name__ == "__main__":
    if sys.argv[1] == "lists":
        lists(Path(sys.argv[2]), Path(sys.argv[3]))
    else:
        sys.stdout.write(f"{same(Path(sys.argv[2]), Path(sys.argv[3]))}\n")
