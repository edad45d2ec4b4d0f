"""Whether the machine takes the section and the length at all."""

from collections.abc import Iterator

from translator.machines.cutting_off import lost_mm
from translator.machines.lay import Lay
from translator.machines.ranges import SLACK_MM, Range
from translator.machines.reasons import Reason, length_words
from translator.model import Flat, Part


def takes_section(lay: Lay) -> bool:
    """Tell whether the machine takes angles, or flats, at all."""
    is_flat = isinstance(lay.part.section, Flat)
    return (lay.machine.flats if is_flat else lay.machine.angles) is not None


def section_reasons(lay: Lay) -> Iterator[Reason]:
    """Yield what is wrong with the section for the machine."""
    part, machine = lay.part, lay.machine
    section = part.section
    if isinstance(section, Flat):
        if machine.flats is None:
            yield _not_taken("the section is a flat, the machine takes none")
            return
        widths = [("the flat", section.width_mm)]
        width, thickness = machine.flats.width, machine.flats.thickness
    else:
        if machine.angles is None:
            yield _not_taken("the section is an angle, the machine takes none")
            return
        widths = [("leg a", section.leg_a_mm), ("leg b", section.leg_b_mm)]
        width, thickness = machine.angles.leg, machine.angles.thickness
    for what, value in widths:
        yield from _beyond(part, "section-not-taken", (what, "wide"), value, width)
    yield from _beyond(
        part, "thickness-not-taken", ("the steel", "thick"), section.thickness_mm, thickness
    )


def length_reasons(lay: Lay) -> Iterator[Reason]:
    """Yield a piece that is too short or too long for the machine or its bars."""
    part, machine = lay.part, lay.machine
    taken, value = machine.piece_length, part.length_mm
    if value < taken.least_mm - SLACK_MM:
        yield _short_or_long(
            "piece-too-short",
            f"the piece is {length_words(part, value)} long, less than the"
            f" {length_words(part, taken.least_mm)} that the machine takes",
            value,
            taken.least_mm,
        )
    if taken.most_mm is not None and value > taken.most_mm + SLACK_MM:
        yield _short_or_long(
            "piece-too-long",
            f"the piece is {length_words(part, value)} long, more than the"
            f" {length_words(part, taken.most_mm)} that the machine takes",
            value,
            taken.most_mm,
        )
        return
    yield from _travel(lay)
    yield from _stock(lay)


def _travel(lay: Lay) -> Iterator[Reason]:
    grip = lay.machine.grip
    value = lay.part.length_mm
    if grip is None or grip.travel_mm is None or grip.can_regrip:
        return
    if value > grip.travel_mm + SLACK_MM:
        yield _short_or_long(
            "piece-too-long",
            f"the piece is {length_words(lay.part, value)} long, more than the"
            f" {length_words(lay.part, grip.travel_mm)} that the carriage travels",
            value,
            grip.travel_mm,
        )


def _stock(lay: Lay) -> Iterator[Reason]:
    """Yield a piece that no bar gives, with the trim at its front, the cut and the tail."""
    cut, longest = lay.machine.cut_off, lay.machine.stock_length.most_mm
    if cut is None or longest is None:
        return
    tail = lay.machine.grip.tail_mm if lay.machine.grip is not None else 0.0
    value = lay.part.length_mm + cut.front_trim_mm + lost_mm(cut) + tail
    if value > longest + SLACK_MM:
        yield _short_or_long(
            "piece-too-long",
            f"the piece takes {length_words(lay.part, value)} of bar with trim, cut and tail, more"
            f" than the {length_words(lay.part, longest)} of the longest bar",
            value,
            longest,
        )


def _not_taken(message: str) -> Reason:
    return Reason(rule="section-not-taken", message=message, element="section", unit="")


def _beyond(
    part: Part, rule: str, words: tuple[str, str], value: float, taken: Range
) -> Iterator[Reason]:
    what, size = words
    limit, than = None, ""
    if value < taken.least_mm - SLACK_MM:
        limit, than = taken.least_mm, "less"
    elif taken.most_mm is not None and value > taken.most_mm + SLACK_MM:
        limit, than = taken.most_mm, "more"
    if limit is not None:
        yield Reason(
            rule=rule,
            message=f"{what} is {length_words(part, value)} {size}, {than} than the"
            f" {length_words(part, limit)} that the machine takes",
            element="section",
            value=value,
            limit=limit,
        )


def _short_or_long(rule: str, message: str, value: float, limit: float) -> Reason:
    return Reason(rule=rule, message=message, element="length", value=value, limit=limit)
