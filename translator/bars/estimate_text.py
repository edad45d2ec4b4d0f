"""The estimate as a person reads it: text of at most 100 columns."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from translator.bars.estimate_model import (
    KG_PER_SHORT_TON,
    KG_PER_TONNE,
    SECONDS_PER_HOUR,
    Assumed,
    EqualMarks,
    Estimate,
    EstimatedPiece,
    MachineEstimate,
    Totals,
)
from translator.bars.text_table import table
from translator.bars.wording import decimal, length_words, many
from translator.findings import CAUTION
from translator.source import printable

WIDTH: Final = 100
_LEAST_PERCENT: Final = 0.05
_MINUTE: Final = 60.0


def estimate_text(estimate: Estimate) -> str:
    """Return an estimate as text; marks and other texts of the input are made printable."""
    lines: list[str] = []
    if len(estimate.machines) > 1:
        lines += [*_comparison(estimate), ""]
    for one in estimate.machines:
        lines += [*_machine(one), ""]
    lines += textwrap.wrap(CAUTION, WIDTH)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _comparison(estimate: Estimate) -> Iterator[str]:
    yield "MACHINES COMPARED"
    head = ("machine", "makes", "tonnes", "machine h", "man-h", "man-h/t", "man-h/short ton")
    rows = [_compared(one.machine, one.totals, len(one.pieces)) for one in estimate.machines]
    yield from table(head, rows, numbers=range(1, 7))
    marks = len(estimate.machines[0].pieces) if estimate.machines else 0
    if not estimate.common_marks:
        yield "  No mark can be made on all of them, so there is nothing to hold side by side."
    elif estimate.common_marks < marks:
        yield ""
        yield f"  Only the {many(estimate.common_marks, 'mark')} that all of them make:"
        rows = [
            _compared(one.machine, common, estimate.common_marks)
            for one, common in zip(estimate.machines, estimate.common, strict=True)
        ]
        yield from table(head, rows, numbers=range(1, 7))


def _compared(machine: str, own: Totals, asked: int) -> Sequence[str]:
    return (
        machine,
        f"{own.marks} of {asked}",
        f"{own.billed_tonnes:.3f}",
        _hours(own.machine_seconds),
        _hours(own.man_seconds),
        _rate(own.man_hours_per_billed_tonne),
        _rate(own.man_hours_per_billed_short_ton),
    )


def _machine(one: MachineEstimate) -> Iterator[str]:
    basis = "from the parts alone" if one.basis == "parts" else "from the programs of its bars"
    yield printable(f"ESTIMATE FOR {one.machine}, {basis}")
    yield from _totals(one)
    yield ""
    yield from _pieces(one.pieces)
    yield from _not_made(one.pieces)
    yield from _second_work(one.pieces)
    yield ""
    yield from _activities(one)
    if one.bars:
        yield ""
        yield from _bars(one)
    yield from _merging(one)
    yield ""
    yield from _assumptions(one.assumptions)
    yield ""
    yield "  How it is reckoned"
    for sentence in one.method:
        yield from _wrapped(sentence, "    ", "      ")


def _totals(one: MachineEstimate) -> Iterator[str]:
    own = one.totals
    short = own.billed_tonnes * KG_PER_TONNE / KG_PER_SHORT_TON
    left_out = len(one.pieces) - own.marks
    beside = f"; {many(left_out, 'mark')} can't be made here" if left_out else ""
    pieces = f"{many(own.marks, 'mark')}, {many(own.pieces, 'piece')}, {many(own.bars, 'bar')}"
    yield f"  made           {pieces}{beside}"
    yield (
        f"  steel          {own.billed_tonnes:.3f} t as billed, {short:.3f} short tons of 2,000 lb;"
        f" {own.net_tonnes:.3f} t net"
    )
    rate = "" if own.pieces_per_hour is None else f", {own.pieces_per_hour:.1f} pieces an hour"
    yield f"  machine time   {_hours(own.machine_seconds)} h{rate}"
    yield f"  man-hours      {_hours(own.man_seconds)} h"
    if own.man_hours_per_billed_tonne is not None:
        for word, tonne, ton in (
            (
                "man-hours",
                own.man_hours_per_billed_tonne,
                own.man_hours_per_billed_short_ton,
            ),
            ("on net mass", own.man_hours_per_net_tonne, own.man_hours_per_net_short_ton),
            (
                "machine hours",
                own.machine_hours_per_billed_tonne,
                own.machine_hours_per_billed_short_ton,
            ),
        ):
            yield f"    {word:<15}{_rate(tonne)} for a tonne, {_rate(ton)} for a short ton"


def _pieces(pieces: Iterable[EstimatedPiece]) -> Iterator[str]:
    rows = [
        (
            piece.mark,
            str(piece.quantity),
            piece.section,
            length_words(piece.length_mm, piece.units),
            str(piece.holes),
            str(piece.stops),
            str(piece.cuts),
            f"{piece.seconds:.1f}",
            _rate(piece.pieces_per_hour, 1),
        )
        for piece in pieces
        if piece.verdict != "not"
    ]
    if rows:
        head = ("mark", "qty", "section", "length", "holes", "stops", "cuts", "s each", "an hour")
        yield from table(head, rows, numbers=(1, 3, 4, 5, 6, 7, 8))


def _not_made(pieces: Iterable[EstimatedPiece]) -> Iterator[str]:
    out = [piece for piece in pieces if piece.verdict == "not"]
    if out:
        yield ""
        yield "  Can't be made here, and is in no figure above"
    for piece in out:
        yield from _wrapped(f"{piece.mark}: {piece.why}", "    ", "      ")


def _second_work(pieces: Iterable[EstimatedPiece]) -> Iterator[str]:
    out = [piece for piece in pieces if piece.second_work]
    if out:
        yield ""
        yield "  Left to do by hand, in no figure above"
    for piece in out:
        words = f"{piece.mark} ({piece.quantity} off): {', '.join(piece.second_work)}"
        yield from _wrapped(words, "    ", "      ")


def _activities(one: MachineEstimate) -> Iterator[str]:
    yield "  Machine time goes into"
    rows = [
        (each.activity, _hours(each.seconds), f"{each.percent:.1f}")
        for each in one.activities
        if each.percent >= _LEAST_PERCENT
    ]
    yield from table(("activity", "h", "%"), rows, numbers=(1, 2), indent=4)


def _bars(one: MachineEstimate) -> Iterator[str]:
    rows = [
        (
            *((each.id,) if one.basis == "programs" else ()),
            each.section,
            each.grade or "",
            length_words(each.length_mm, each.units),
            *(() if one.basis == "programs" else (str(each.bars),)),
            str(each.pieces),
            f"{each.seconds / _MINUTE:.1f}",
            f"{each.attended_seconds / _MINUTE:.1f}",
        )
        for each in one.bars
    ]
    first = ("bar",) if one.basis == "programs" else ()
    count = () if one.basis == "programs" else ("bars",)
    head = (*first, "section", "grade", "length", *count, "pieces", "min a bar", "attended")
    yield "  Bars"
    yield from table(head, rows, numbers=range(len(head) - 4 - len(count) + 1, len(head)), indent=4)


def _merging(one: MachineEstimate) -> Iterator[str]:
    merged = one.merging
    if not merged.groups:
        return
    yield ""
    yield "  Equal marks"
    for group in merged.groups:
        yield from _wrapped(_equal(group), "    ", "      ")
    saved = (
        f"setting them up and measuring them once saves {many(merged.setups_saved, 'set-up')},"
        f" {_hours(merged.seconds_saved)} h"
    )
    if merged.man_hours_per_billed_tonne is not None:
        saved += (
            f": {_rate(merged.man_hours_per_billed_tonne)} man-hours for a tonne,"
            f" {_rate(merged.man_hours_per_billed_short_ton)} for a short ton"
        )
    yield from _wrapped(f"{saved}; each keeps its own stamp and label", "    ", "      ")


def _equal(group: EqualMarks) -> str:
    turned = ", drawn the other way round" if group.is_turned else ""
    return f"{', '.join(group.marks)} are the same piece{turned}"


def _assumptions(assumed: Iterable[Assumed]) -> Iterator[str]:
    rows = [
        (each.what, f"{decimal(each.value, 3)} {each.unit}", each.source, each.field)
        for each in assumed
    ]
    if not rows:
        yield "  Nothing assumed: the profile has every figure that was used."
        return
    yield "  Assumed, since the profile does not say"
    # The field would make the lines too long; it stands on a line of its own where it must.
    for what, value, source, field in rows:
        yield from _wrapped(f"{what}: {value} ({source}); say {field}", "    ", "      ")


def _hours(seconds: float) -> str:
    return f"{seconds / SECONDS_PER_HOUR:.2f}"


def _rate(value: float | None, places: int = 2) -> str:
    return "-" if value is None else f"{value:.{places}f}"


def _wrapped(text: str, indent: str, beyond: str) -> list[str]:
    return textwrap.wrap(printable(text), WIDTH, initial_indent=indent, subsequent_indent=beyond)
