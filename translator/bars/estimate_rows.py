"""An estimate as rows of words: what its text and its page have in common."""

from collections.abc import Iterator
from typing import Final

from translator.bars.estimate_model import (
    KG_PER_SHORT_TON,
    KG_PER_TONNE,
    SECONDS_PER_HOUR,
    EqualMarks,
    Estimate,
    MachineEstimate,
    Totals,
)
from translator.bars.wording import decimal, length_words, many

Row = tuple[str, ...]

_LEAST_PERCENT: Final = 0.05
_MINUTE: Final = 60.0

MACHINES: Final = (
    *("machine", "makes", "tonnes", "machine h", "man-h", "man-h/t", "man-h/short ton"),
)
PIECES: Final = (
    *("mark", "qty", "section", "length", "holes", "stops", "cuts", "s each", "an hour"),
)
ACTIVITIES: Final = ("activity", "h", "%")
ASSUMED: Final = ("what", "figure", "source", "field that would say it")


def compared_rows(estimate: Estimate) -> Iterator[Row]:
    """Yield a row for each machine, by all that it makes."""
    for one in estimate.machines:
        yield _compared(one.machine, one.totals, len(one.pieces))


def common_rows(estimate: Estimate) -> Iterator[Row]:
    """Yield a row for each machine, by the marks that all of them make."""
    for one, common in zip(estimate.machines, estimate.common, strict=False):
        yield _compared(one.machine, common, estimate.common_marks)


def _compared(machine: str, own: Totals, asked: int) -> Row:
    return (
        machine,
        f"{own.marks} of {asked}",
        f"{own.billed_tonnes:.3f}",
        hours(own.machine_seconds),
        hours(own.man_seconds),
        rate(own.man_hours_per_billed_tonne),
        rate(own.man_hours_per_billed_short_ton),
    )


def total_rows(one: MachineEstimate) -> Iterator[tuple[str, str]]:
    """Yield what is made, of how much steel, in what time: a word and what is to be said."""
    own = one.totals
    short = own.billed_tonnes * KG_PER_TONNE / KG_PER_SHORT_TON
    left_out = len(one.pieces) - own.marks
    beside = f"; {many(left_out, 'mark')} can't be made here" if left_out else ""
    pieces = f"{many(own.marks, 'mark')}, {many(own.pieces, 'piece')}, {many(own.bars, 'bar')}"
    speed = "" if own.pieces_per_hour is None else f", {own.pieces_per_hour:.1f} pieces an hour"
    yield "made", f"{pieces}{beside}"
    billed = f"{own.billed_tonnes:.3f} t as billed, {short:.3f} short tons of 2,000 lb"
    yield "steel", f"{billed}; {own.net_tonnes:.3f} t net"
    yield "machine time", f"{hours(own.machine_seconds)} h{speed}"
    yield "man-hours", f"{hours(own.man_seconds)} h"


def rate_rows(one: MachineEstimate) -> Iterator[tuple[str, str]]:
    """Yield hours for a tonne and for a short ton; nothing where nothing is made."""
    own = one.totals
    if own.man_hours_per_billed_tonne is None:
        return
    for word, tonne, ton in (
        ("man-hours", own.man_hours_per_billed_tonne, own.man_hours_per_billed_short_ton),
        ("on net mass", own.man_hours_per_net_tonne, own.man_hours_per_net_short_ton),
        (
            "machine hours",
            own.machine_hours_per_billed_tonne,
            own.machine_hours_per_billed_short_ton,
        ),
    ):
        yield word, f"{rate(tonne)} for a tonne, {rate(ton)} for a short ton"


def piece_rows(one: MachineEstimate) -> Iterator[Row]:
    """Yield a row for each mark that is made."""
    for piece in one.pieces:
        if piece.verdict != "not":
            yield (
                piece.mark,
                str(piece.quantity),
                piece.section,
                length_words(piece.length_mm, piece.units),
                str(piece.holes),
                str(piece.stops),
                str(piece.cuts),
                f"{piece.seconds:.1f}",
                rate(piece.pieces_per_hour, 1),
            )


def activity_rows(one: MachineEstimate) -> Iterator[Row]:
    """Yield a row for each activity that takes a share worth telling."""
    for each in one.activities:
        if each.percent >= _LEAST_PERCENT:
            yield each.activity, hours(each.seconds), f"{each.percent:.1f}"


def bar_table(one: MachineEstimate) -> tuple[Row, list[Row], range]:
    """Return head, rows and columns of figures of the bars."""
    is_close = one.basis == "programs"
    rows = [
        (
            *((each.id,) if is_close else ()),
            each.section,
            each.grade or "",
            length_words(each.length_mm, each.units),
            str(each.bars),
            str(each.pieces),
            f"{each.seconds / _MINUTE:.1f}",
            f"{each.attended_seconds / _MINUTE:.1f}",
        )
        for each in one.bars
    ]
    first = ("bar",) if is_close else ()
    head = (*first, "section", "grade", "length", "bars", "pieces", "min a bar", "attended")
    return head, rows, range(len(head) - 5, len(head))


def not_made(one: MachineEstimate) -> Iterator[tuple[str, str]]:
    """Yield each mark that can't be made, and why."""
    for piece in one.pieces:
        if piece.verdict == "not":
            yield piece.mark, piece.why


def by_hand(one: MachineEstimate) -> Iterator[tuple[str, str]]:
    """Yield each mark that is left something to do by hand, and what."""
    for piece in one.pieces:
        if piece.second_work:
            yield f"{piece.mark} ({piece.quantity} off)", ", ".join(piece.second_work)


def merging_words(one: MachineEstimate) -> Iterator[str]:
    """Yield which marks are one piece, and what is saved by setting them up once."""
    merged = one.merging
    for group in merged.groups:
        yield _equal(group)
    if merged.groups:
        saved = (
            f"setting them up and measuring them once saves"
            f" {many(merged.setups_saved, 'set-up')}, {hours(merged.seconds_saved)} h"
        )
        if merged.man_hours_per_billed_tonne is not None:
            saved += (
                f": {rate(merged.man_hours_per_billed_tonne)} man-hours for a tonne,"
                f" {rate(merged.man_hours_per_billed_short_ton)} for a short ton"
            )
        yield f"{saved}; each keeps its own stamp and label"


def _equal(group: EqualMarks) -> str:
    turned = ", drawn the other way round" if group.is_turned else ""
    return f"{', '.join(group.marks)} are the same piece{turned}"


def assumed_words(one: MachineEstimate) -> Iterator[Row]:
    """Yield a row for each figure that was assumed."""
    for each in one.assumptions:
        figure = f"{decimal(each.value, 3)} {each.unit}"
        yield each.what, figure, each.source, each.field


def hours(seconds: float) -> str:
    """Return a time in hours."""
    return f"{seconds / SECONDS_PER_HOUR:.2f}"


def rate(value: float | None, places: int = 2) -> str:
    """Return a rate, a dash where there is none."""
    return "-" if value is None else f"{value:.{places}f}"
