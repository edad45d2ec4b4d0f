"""A part to the bytes of one NC file."""

from collections.abc import Iterable, Mapping
from itertools import groupby
from types import MappingProxyType
from typing import Final

from translator.conventions import AUTO, CHOICES, Conventions, with_setting
from translator.conventions.comment import setting_comment, stated_setting
from translator.emitters._emitter import EmitOptions
from translator.emitters.nc._contours import outline_rows
from translator.emitters.nc._frame import View, view_of
from translator.emitters.nc._header import has_cuts, header
from translator.emitters.nc._nominal import is_nominal
from translator.emitters.nc._rows import Block, blocks_of
from translator.errors import CannotRepresentError
from translator.geometry.contours import Contour, bounds
from translator.geometry.outline import leg_outline
from translator.model import LegName, Part, leg_names, leg_of, leg_width

_NEEDED: Final[Mapping[str, str]] = MappingProxyType(
    {
        "u_view_bottom": "which edge of view u is y = 0 decides where things stand on leg b",
        "arc_sign": "which way a positive radius turns decides the shape of the arcs",
    }
)
"""Settings without a default, and why writing needs them."""

_DEFAULTS: Final = (("slot_reference", "first-centre"), ("slot_length", "centres"))
_STATED: Final = ("u_view_bottom", "arc_sign", "slot_reference", "slot_length")
_GRID_MM: Final = 1e-6
_REACHED_MM: Final = 0.0105
_CORNERS: Final = 4


def emit(part: Part, options: EmitOptions) -> bytes:
    """Write a part as an NC file: CR LF, lengths rounded to 0.01 mm.

    Raises:
        CannotRepresentError: when a setting is open on which the file depends, when the
            part's outline is at fault, or when rounding would lose something.
    """
    settings = options.conventions
    for name, value in _DEFAULTS:
        if getattr(settings, name) == AUTO:
            settings = with_setting(settings, name, value)
    outlines = {leg: _outline(part, leg) for leg in leg_names(part)}
    used = [name for name in _STATED if _depends(part, outlines, settings, name)]
    for name in used:
        if getattr(settings, name) == AUTO:
            values = " or ".join(f'"{value}"' for value in CHOICES[name][1:])
            raise CannotRepresentError(
                f"the setting {name} is open, and {_NEEDED[name]}; put {name} = {values} under"
                " [nc] in backmark.toml"
            )
    left, right = extent(part, outlines)
    if (left, right) != (0.0, part.length_mm):
        # Trims have taken the outermost points of the end cuts: their angles would mislead.
        settings = with_setting(settings, "mitre_sign", AUTO)
    elif has_cuts(part):
        names = ("mitre_sign", "flange_cut_view")
        used += [name for name in names if getattr(settings, name) != AUTO]
    comments = [setting_comment(name, getattr(settings, name)) for name in used]
    if is_nominal(part, outlines):
        comments.append(setting_comment("nominal_inch", "yes"))
    comments += [line for line in part.carried if is_comment(line)]
    lines = ["ST", *comments, *header(part, settings, right - left)]
    lines += _body(part, outlines, settings)
    return "".join(f"{line}\r\n" for line in [*lines, "EN"]).encode("utf-8")


def is_comment(line: str) -> bool:
    """Tell whether a carried line goes into the file as a comment."""
    return line.startswith("**") and stated_setting(line) is None


def extent(part: Part, outlines: Mapping[LegName, Contour]) -> tuple[float, float]:
    """Return the x between which the finished piece lies, which trims may have shortened.

    Within rounding of 0 and of the length they are those.
    """
    boxes = [bounds(contour) for contour in outlines.values()]
    left, right = min(box[0] for box in boxes), max(box[2] for box in boxes)
    is_whole = abs(left) <= _REACHED_MM and abs(right - part.length_mm) <= _REACHED_MM
    return (0.0, part.length_mm) if is_whole else (left, right)


def _outline(part: Part, leg: LegName) -> Contour:
    """Return the outline of a leg.

    Raises:
        CannotRepresentError: when the trims of the part make none.
    """
    outline = leg_outline(part, leg)
    if outline.faults or not outline.contour:
        fault = outline.faults[0].message if outline.faults else "it has no outline"
        where = "the face" if leg == "face" else f"leg {leg}"
        raise CannotRepresentError(f"the outline of {where} is at fault: {fault}")
    return outline.contour


def _depends(
    part: Part, outlines: Mapping[LegName, Contour], settings: Conventions, name: str
) -> bool:
    """Tell whether the rows of a file change with one setting."""
    closed = settings
    for other in _NEEDED:
        if getattr(closed, other) == AUTO:
            closed = with_setting(closed, other, CHOICES[other][1])
    bodies = {
        tuple(_body(part, outlines, with_setting(closed, name, value)))
        for value in CHOICES[name][1:]
    }
    return len(bodies) > 1


def _body(part: Part, outlines: Mapping[LegName, Contour], settings: Conventions) -> Iterable[str]:
    """Yield the lines of all blocks: outlines, then the features of each leg in order."""
    left, _ = extent(part, outlines)
    views = {leg: view_of(part, leg, settings, left) for leg in leg_names(part)}
    yield from _outlines(part, outlines, views)
    blocks = [
        block
        for leg, view in views.items()
        for block in blocks_of(part, view, leg_of(part, leg).features, settings)
    ]
    for code, group in groupby(blocks, key=_key):
        yield code[0]
        for _, lines in group:
            yield from lines


def _key(block: Block) -> tuple[str, int]:
    """Keep holes and stamps of a run in one block; contours and lines have one each."""
    code, lines = block
    return (code, 0) if code in ("BO", "SI") else (code, id(lines))


def _outlines(
    part: Part, outlines: Mapping[LegName, Contour], views: Mapping[LegName, View]
) -> Iterable[str]:
    """Yield an outline for every leg, none at all when all are plain rectangles."""
    if all(_is_plain(part, leg, contour) for leg, contour in outlines.items()):
        return
    for leg, contour in outlines.items():
        yield "AK"
        yield from outline_rows(views[leg], contour)


def _is_plain(part: Part, leg: LegName, contour: Contour) -> bool:
    length, width = part.length_mm, leg_width(part.section, leg)
    return (
        len(contour) == _CORNERS
        and not any(v.bulge for v in contour)
        and all(
            min(abs(v.x_mm), abs(v.x_mm - length)) <= _GRID_MM
            and min(abs(v.y_mm), abs(v.y_mm - width)) <= _GRID_MM
            for v in contour
        )
    )
