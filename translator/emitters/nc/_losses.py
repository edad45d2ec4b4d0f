"""What a part says and the format has no words for."""

from collections.abc import Iterable
from typing import Final

from translator.emitters.nc._rows import is_missing
from translator.emitters.nc._write import extent, is_comment
from translator.geometry.outline import leg_outline
from translator.model import (
    Angle,
    Feature,
    Hole,
    LegName,
    Part,
    Scribe,
    Slot,
    Stamp,
    leg_names,
    leg_of,
)
from translator.tables.angles import listed

_REMARKS: Final = 3
_SAME_MM: Final = 0.05


def losses(part: Part) -> tuple[str, ...]:
    """Return one sentence for each thing that the file is written without."""
    return (*_words(part), *_section(part), *_ends(part), *_features(part))


def _words(part: Part) -> Iterable[str]:
    for name, value in (
        ("revision", part.revision),
        ("lot", part.lot),
        ("finish", part.finish),
    ):
        if value is not None:
            yield f"the {name} {value!r} is not written"
    if part.second_work:
        yield f"{_many(len(part.second_work), 'line', 'of second work')} not written"
    if part.waivers:
        yield f"{_many(len(part.waivers), 'waiver')} not written"
    if len(part.remarks) > _REMARKS:
        surplus = len(part.remarks) - _REMARKS
        yield f"{_many(surplus, 'remark', 'beyond the third')} not written"
    texts = (part.order, part.drawing, part.phase, part.grade, part.title, *part.remarks)
    lost = [text for text in texts if is_missing(text)]
    if lost:
        yield f"{_many(len(lost), 'text', f'like {lost[0]!r}')} read as not given"
    raw = [line for line in part.carried if not is_comment(line)]
    if raw:
        yield f"{_many(len(raw), 'line', 'carried from another source')} not written"
    if part.units == "inch" and not _has_inch_name(part):
        yield "the unit inch is not written: the format is in millimetres"


def _has_inch_name(part: Part) -> bool:
    from translator.lengths.spell import inch_text

    section = part.section
    sizes = (
        (section.leg_a_mm, section.leg_b_mm, section.thickness_mm)
        if isinstance(section, Angle)
        else (section.width_mm, section.thickness_mm)
    )
    return all(inch_text(size) is not None for size in sizes)


def _many(count: int, noun: str, more: str = "") -> str:
    what = f"{count} {noun}{'' if count == 1 else 's'} {more}".rstrip()
    return f"{what} {'is' if count == 1 else 'are'}"


def _section(part: Part) -> Iterable[str]:
    section = part.section
    if not isinstance(section, Angle):
        return
    row = listed(section)
    toe = row.toe_radius_mm if row is not None else section.root_radius_mm / 2
    if abs(section.toe_radius_mm - min(toe, section.thickness_mm)) > _SAME_MM:
        yield f"the toe radius of {section.toe_radius_mm:g} mm is not written"


def _ends(part: Part) -> Iterable[str]:
    """Say where trims have shortened the piece, so that its x are counted from elsewhere."""
    outlines = {leg: leg_outline(part, leg).contour for leg in leg_names(part)}
    if not all(outlines.values()):
        return
    left, right = extent(part, outlines)
    if (left, right) != (0.0, part.length_mm):
        yield (
            f"trims shorten the piece to {right - left:.2f} mm, which is written as its length; x"
            f" is counted from {left:.2f} mm behind the part's start"
        )


def _features(part: Part) -> Iterable[str]:
    features = [(leg, f) for leg in leg_names(part) for f in leg_of(part, leg).features]
    bored = [f for _, f in features if isinstance(f, Hole | Slot)]
    for noun, names in (
        ("bolt", [f.id for f in bored if f.bolt is not None]),
        ("purpose", [f.id for f in bored if f.purpose is not None]),
        ("process", [f.id for f in bored if f.process is not None]),
        ("countersink angle", [f.id for f in bored if _sink_angle(f)]),
    ):
        if names:
            yield f"the {noun} of {_listed(names)} is not written"
    scribed = [f.id for _, f in features if isinstance(f, Scribe) and f.method == "scribe"]
    if scribed:
        yield f"scribed lines are left out ({_listed(scribed)}): the format has powder and punch"
    if any(f.id != name for (_, f), name in zip(features, _derived(part), strict=True)):
        yield "the ids of features are not written; a reader numbers them by order"
    texts = [f.id for _, f in features if isinstance(f, Stamp) and _is_padded(f)]
    if texts:
        yield f"blanks around the letters of {_listed(texts)} are not written"


def _sink_angle(feature: Feature) -> bool:
    return isinstance(feature, Hole) and feature.countersink_angle_deg is not None


def _is_padded(stamp: Stamp) -> bool:
    return stamp.text is not None and stamp.text != stamp.text.strip()


def _derived(part: Part) -> Iterable[str]:
    """Yield the ids that a reader gives, in order."""
    names: tuple[LegName, ...] = leg_names(part)
    for leg in names:
        for number in range(1, len(leg_of(part, leg).features) + 1):
            yield f"{leg[0]}{number}"


def _listed(names: list[str]) -> str:
    shown = ", ".join(names[:6])
    return shown + (f" and {len(names) - 6} more" if len(names) > 6 else "")  # noqa: PLR2004
