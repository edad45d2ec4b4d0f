"""What is measured on the first piece of a mark, in one line for each leg."""

from collections.abc import Iterator, Sequence

from translator.bars.estimate import section_name
from translator.bars.setup_model import FirstPiece, Measure
from translator.geometry.ends import end_angle_deg
from translator.model import (
    Hole,
    LegName,
    Part,
    Slot,
    leg_names,
    leg_of,
    leg_width,
    on_grid,
)


def first_piece(part: Part, lead_end: str, second_work: Sequence[str]) -> FirstPiece:
    """Return what is measured on the first piece of a part that lies with an end ahead."""
    return FirstPiece(
        mark=part.mark,
        order=part.order or "",
        revision=part.revision or "",
        section=section_name(part),
        units=part.units,
        quantity=part.quantity,
        lead_end=lead_end,
        measures=tuple(_measures(part)),
        second_work=tuple(second_work),
    )


def _measures(part: Part) -> Iterator[Measure]:
    yield Measure(leg="", what="length", sizes_mm=(part.length_mm,))
    for leg in leg_names(part):
        name = "face" if leg == "face" else f"leg {leg}"
        yield from _on_leg(part, leg, name)


def _on_leg(part: Part, leg: LegName, name: str) -> Iterator[Measure]:
    """Yield first and last place, gauges and sizes; a leg without holes shows its width alone."""
    holes = [f for f in leg_of(part, leg).features if isinstance(f, Hole | Slot)]
    if not holes:
        yield Measure(leg=name, what="width", sizes_mm=(leg_width(part.section, leg),))
    else:
        places = sorted(f.x_mm for f in holes)
        ends = (places[0],) if places[0] == places[-1] else (places[0], places[-1])
        yield Measure(leg=name, what="first and last hole from the start end", sizes_mm=ends)
        edge = "lower edge" if leg == "face" else "heel"
        gauges = tuple(sorted({on_grid(f.y_mm) for f in holes}))
        yield Measure(leg=name, what=f"gauges from the {edge}", sizes_mm=gauges)
        rounds = tuple(sorted({f.diameter_mm for f in holes if isinstance(f, Hole)}))
        if rounds:
            yield Measure(leg=name, what="hole diameter", sizes_mm=rounds)
        slots = sorted({(f.width_mm, f.length_mm) for f in holes if isinstance(f, Slot)})
        for slot in slots:
            yield Measure(leg=name, what="slot, width and length overall", sizes_mm=slot)
    for end in ("start", "far"):
        angle = end_angle_deg(part, "start" if end == "start" else "far", leg)
        if angle:
            yield Measure(leg=name, what=f"{end} end {abs(angle):g} deg from square", sizes_mm=())
