"""Stamps of one piece: where the marker strikes them, or why a person does."""

from collections.abc import Iterator

from translator.bars.program_lying import Lying, from_heel, gauge
from translator.bars.program_model import SecondWork, Stamping
from translator.lengths.grid import text_direction
from translator.machines.handling import Marker
from translator.machines.lay import LegLay, lay
from translator.machines.marking import letters_box, stamp_reasons
from translator.machines.reasons import named
from translator.model import (
    AngleLegs,
    FlatLegs,
    Leg,
    LegName,
    Part,
    Stamp,
    feature_path,
    leg_names,
    leg_of,
    on_grid,
)


def stamp_works(lying: Lying) -> Iterator[Stamping | SecondWork]:
    """Yield each stamp as the marker strikes it, or as second work where it can't."""
    for leg in leg_names(lying.part):
        for feature in leg_of(lying.part, leg).features:
            if isinstance(feature, Stamp):
                yield _work(lying, leg, feature)


def _work(lying: Lying, leg: LegName, stamp: Stamp) -> Stamping | SecondWork:
    marker = lying.machine.marker
    why = ""
    for place in _places(lying, leg, stamp):
        faults = _faults(lying, leg, place)
        if marker is not None and not faults:
            return _stamping(lying, leg, marker, place, is_moved=place != _fixed(stamp))
        why = why or next(iter(faults), "the machine has no marker")
    path = feature_path(leg, stamp.id)
    return SecondWork(
        what=named(stamp),
        why=why,
        element=path,
        leg=leg,
        feature=stamp.id,
        source=lying.source(path),
    )


def _fixed(stamp: Stamp) -> Stamp:
    return stamp.model_copy(update={"may_move": False})


def _places(lying: Lying, leg: LegName, stamp: Stamp) -> Iterator[Stamp]:
    """Yield the stamp where it is drawn and, if it may move, at the marker's nearest gauge."""
    yield _fixed(stamp)
    marker = lying.machine.marker
    if marker is None or not stamp.may_move:
        return
    own = lying.leg(leg)
    near = _nearest(own, stamp, _text(lying.part, stamp), marker)
    least, most = marker.from_heel.least_mm, marker.from_heel.most_mm
    wanted = min(max(near, least), most if most is not None else max(near, least))
    move = (wanted - near) * (-1.0 if own.is_flipped else 1.0)
    if move:
        place = on_grid(stamp.from_heel_mm + move)
        yield _fixed(stamp).model_copy(update={"from_heel_mm": place})


def _faults(lying: Lying, leg: LegName, stamp: Stamp) -> tuple[str, ...]:
    """Return what is said against a stamp at a place, asked as if it might not move."""
    probe = _with(lying.part, leg, stamp)
    laid = lay(lying.machine, probe, lying.planned.placement)
    path = feature_path(leg, stamp.id)
    return tuple(r.message for r in stamp_reasons(laid) if r.element == path)


def _with(part: Part, leg: LegName, stamp: Stamp) -> Part:
    own = leg_of(part, leg)
    features = tuple(stamp if f.id == stamp.id else f for f in own.features)
    changed = own.model_copy(update={"features": features})
    legs: AngleLegs | FlatLegs
    if isinstance(part.legs, FlatLegs):
        legs = FlatLegs(face=changed)
    else:
        a: Leg = changed if leg == "a" else part.legs.a
        b: Leg = changed if leg == "b" else part.legs.b
        legs = AngleLegs(a=a, b=b)
    return part.model_copy(update={"legs": legs})


def _text(part: Part, stamp: Stamp) -> str:
    return stamp.text if stamp.text is not None else part.mark


def _nearest(own: LegLay, stamp: Stamp, text: str, marker: Marker) -> float:
    box = letters_box(stamp, len(text), marker.letter_width)
    return min(own.from_heel(corner.y_mm) for corner in box)


def _stamping(
    lying: Lying, leg: LegName, marker: Marker, stamp: Stamp, *, is_moved: bool
) -> Stamping:
    own, text = lying.leg(leg), _text(lying.part, stamp)
    nearest = _nearest(own, stamp, text, marker)
    # y of the letters' edge nearest the heel's place, for the machine's own datum
    near_y = own.width - nearest if own.is_flipped else nearest
    return Stamping(
        text=text,
        height_mm=stamp.height_mm,
        side=own.side,
        bar_mm=lying.bar_mm(stamp.x_mm),
        from_heel_mm=from_heel(own, stamp.from_heel_mm),
        nearest_mm=on_grid(nearest),
        gauge_mm=gauge(lying.machine, own, near_y),
        reading_deg=_reading(own, stamp.angle_deg),
        is_moved=is_moved,
        piece=lying.planned.number,
        mark=lying.part.mark,
        leg=leg,
        feature=stamp.id,
        x_mm=stamp.x_mm,
        y_mm=stamp.from_heel_mm,
        source=lying.source(feature_path(leg, stamp.id)),
    )


def _reading(own: LegLay, degrees: float) -> float:
    """Turn a text's direction on the leg into one from the way the bar travels."""
    rising = -degrees if own.is_flipped else degrees
    return text_direction(rising if own.flow > 0.0 else 180.0 - rising)
