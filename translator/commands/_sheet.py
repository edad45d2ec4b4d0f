"""The summary of one part, for a person at a terminal."""

import textwrap
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from translator.commands._drawing import LEGEND, drawn
from translator.findings import CAUTION
from translator.geometry.clearance import extent
from translator.geometry.computed import Computed, compute
from translator.geometry.netpath import Convention
from translator.geometry.stops import feature_x
from translator.lengths.spell import feet_inch_text, inch_text
from translator.model import (
    Angle,
    CentreMark,
    Hole,
    LegName,
    Opening,
    Part,
    Placed,
    Slot,
    Stamp,
    leg_names,
    leg_of,
    leg_width,
)
from translator.model.features import Feature
from translator.source import printable
from translator.tables.designations import designation_of

_MM_PER_INCH: Final = 25.4
_KG_PER_POUND: Final = 0.45359237
_WIDTH: Final = 80
_NET_WORDS: Final[Mapping[Convention, str]] = MappingProxyType(
    {
        "aisc": "AISC 360",
        "en": "EN 1993-1-1",
    }
)


def sheet(placed: Placed) -> str:
    """Return everything about a part that a person checks it by, at most 80 columns wide."""
    part = placed.part
    computed = compute(part)
    lines = [*_head(part, computed)]
    for leg in leg_names(part):
        lines += ["", *_leg(part, leg)]
    lines += ["", *_stops(part, computed), ""]
    for leg in leg_names(part):
        lines += [f"{_leg_name(leg).upper()}, OUTSIDE FACE, start end left", *drawn(part, leg), ""]
    lines += [LEGEND, "", *_wrapped(CAUTION)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def line_of(placed: Placed) -> str:
    """Return one line about a part, for a list."""
    part = placed.part
    name = printable(_section_name(part))
    pieces = f"{part.quantity} {'pc' if part.quantity == 1 else 'pcs'}"
    return f"{printable(part.mark)}  {name}  {_both(part.length_mm, part)}  {pieces}"


def _head(part: Part, computed: Computed) -> Iterator[str]:
    yield printable(f"{part.mark}  {part.title or ''}")
    yield f"section   {printable(_section_name(part))}: {_sizes(part)}"
    yield f"length    {_both(part.length_mm, part)}"
    yield f"quantity  {part.quantity}"
    for word, value in (
        ("grade", part.grade),
        ("finish", part.finish),
        ("order", part.order),
        ("drawing", part.drawing),
        ("revision", part.revision),
    ):
        if value is not None:
            yield f"{word:<9} {printable(value)}"
    yield (f"mass      {_mass(computed.mass_kg)} as billed, {_mass(computed.net_mass_kg)} finished")
    yield f"paint     {computed.paint_area_m2:.3f} m2"
    yield f"area      {_area(computed.section_area_mm2, part)}"
    yield from _net_areas(part, computed)
    yield from _ends(part)
    for word, values in (("remark", part.remarks), ("then", part.second_work)):
        for value in values:
            yield f"{word:<9} {printable(value)}"
    for trim_leg in leg_names(part):
        count = len(leg_of(part, trim_leg).trims)
        if count:
            yield f"cuts      {count} on {_leg_name(trim_leg)}"


def _net_areas(part: Part, computed: Computed) -> Iterator[str]:
    """Tell what the worst way across leaves, where holes make the section weaker."""
    indent = " " * 10
    word = "net area"
    for net in computed.net_paths:
        if net.path:
            way = ", ".join(name for _, name in net.path)
            rule = _NET_WORDS[net.convention]
            text = f"{_area(net.net_area_mm2, part)} by {rule}, through {way}"
            yield from textwrap.wrap(
                text, _WIDTH - 1, initial_indent=f"{word:<10}", subsequent_indent=indent
            )
            word = ""
    if not word:
        yield f"{indent}geometry, not design: it knows nothing of the forces"


def _ends(part: Part) -> Iterator[str]:
    for end in ("start", "far"):
        cut = getattr(part.ends, end)
        for name, angle in cut:
            if angle:
                leg = name.removesuffix("_deg").replace("leg_", "leg ")
                side = "toe" if isinstance(part.section, Angle) else "upper edge"
                word = "long" if angle > 0 else "short"
                size = f"{_decimal(abs(angle), 6)} deg on {leg}"
                yield f"{end + ' end':<9} {size}, {word} at the {side}"


def _leg(part: Part, leg: LegName) -> Iterator[str]:
    unit = "inches" if part.units == "inch" else "mm"
    width = leg_width(part.section, leg)
    yield f"{_leg_name(leg)}, {_both(width, part)} wide; lengths in {unit}"
    heel, toe = ("from heel", "from toe") if leg != "face" else ("from lower", "from upper")
    rows = [("", "", "x", heel, toe, "size")]
    rows += [_row(part, f, width) for f in leg_of(part, leg).features]
    if len(rows) == 1:
        yield "  nothing is made on it"
        return
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    for row in rows:
        cells = [
            cell.ljust(w) if i in (0, 1, 5) else cell.rjust(w)
            for i, (cell, w) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  " + "  ".join(cells)


def _row(part: Part, feature: Feature, width: float) -> tuple[str, str, str, str, str, str]:
    kind = feature.kind.replace("_", " ")
    x = _length(feature_x(feature), part)
    if isinstance(feature, Hole | Slot | CentreMark):
        y = feature.y_mm
    elif isinstance(feature, Opening):
        box = extent(feature)
        y = (box.low + box.high) / 2.0
    elif isinstance(feature, Stamp):
        y = feature.from_heel_mm
    else:
        return feature.id, kind, x, "", "", f"{len(feature.line)} points"
    return (
        feature.id,
        kind,
        x,
        _length(y, part),
        _length(width - y, part),
        _size(part, feature),
    )


def _size(part: Part, feature: Feature) -> str:
    words: list[str] = []
    if isinstance(feature, Hole):
        words.append(_length(feature.diameter_mm, part))
        if feature.thread:
            words.append(f"tapped {feature.thread}-hand")
        if feature.countersink_diameter_mm or feature.countersink_angle_deg:
            words.append("countersunk")
    elif isinstance(feature, Slot):
        size = f"{_length(feature.width_mm, part)} x {_length(feature.length_mm, part)}"
        words += [size, f"at {_decimal(feature.angle_deg, 3)} deg"]
    elif isinstance(feature, Opening):
        words.append(f"{len(feature.contour)} corners")
    elif isinstance(feature, Stamp):
        text = printable(feature.text if feature.text is not None else part.mark)
        words.append(f'"{text}" {_length(feature.height_mm, part)} high')
    if isinstance(feature, Hole | Slot):
        if feature.depth_mm is not None:
            words.append(f"{_length(feature.depth_mm, part)} deep")
        words += [f"bolt {feature.bolt}"] if feature.bolt else []
        words += [w for w in (feature.purpose, feature.process) if w]
    return ", ".join(words)


def _stops(part: Part, computed: Computed) -> list[str]:
    items = [
        f"{_length(stop.x_mm, part)} ({', '.join(name for _, name in stop.operations)})"
        for stop in computed.stops
    ]
    if not items:
        return ["no stops"]
    return _wrapped(f"{len(items)} stops: " + ", ".join(items), "  ")


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH - 1, subsequent_indent=indent)


def _leg_name(leg: LegName) -> str:
    return "face" if leg == "face" else f"leg {leg}"


def _section_name(part: Part) -> str:
    return part.section.designation or designation_of(part.section)


def _sizes(part: Part) -> str:
    legs = " x ".join(_length(leg_width(part.section, leg), part) for leg in leg_names(part))
    thickness = _length(part.section.thickness_mm, part)
    return f"{legs} x {thickness} {'in.' if part.units == 'inch' else 'mm'}"


def _length(mm: float, part: Part) -> str:
    if part.units == "inch":
        return inch_text(mm) or _decimal(mm / _MM_PER_INCH, 4)
    return _decimal(mm, 3)


def _both(mm: float, part: Part) -> str:
    """Return a length in both units, the author's first."""
    metric = f"{_decimal(mm, 3)} mm"
    inch = feet_inch_text(mm) or f'{_decimal(mm / _MM_PER_INCH, 4)}"'
    return f"{inch} ({metric})" if part.units == "inch" else f"{metric} ({inch})"


def _area(mm2: float, part: Part) -> str:
    metric, inch = f"{mm2:.0f} mm2", f"{mm2 / _MM_PER_INCH**2:.2f} in2"
    return f"{inch} ({metric})" if part.units == "inch" else f"{metric} ({inch})"


def _mass(kg: float) -> str:
    return f"{kg:.2f} kg ({kg / _KG_PER_POUND:.1f} lb)"


def _decimal(value: float, places: int) -> str:
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
