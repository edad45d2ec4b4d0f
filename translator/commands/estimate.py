"""``backmark estimate``: hours of machines and people for an order, and for each tonne."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._console import remark, say
from translator.commands._delivery import Delivery, Wanted, shared_options, take
from translator.commands.check import exit_code, render
from translator.source import printable

if TYPE_CHECKING:
    from translator.bars.estimate_model import Estimate
    from translator.machines import Machine
    from translator.model import Placed

FORMATS: Final = ("text", "json", "csv")

LONGEST_BAR_MM: Final = 100_000.0
"""No mill rolls a longer bar; a larger figure is a slip of the pen."""


@click.command("estimate", short_help="Estimate hours of machines and people for each tonne.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--machine",
    "machines",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Profile of a machine (JSON); given again, machines are compared. Else those of the"
    " settings file.",
)
@click.option(
    "--bar",
    metavar="LENGTH",
    help="Length of bar to reckon with, like 20' or 6100mm; else 20 ft for parts in"
    " inches and 6 m for others.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    default="text",
    help="text (default), json (backmark/estimate), or csv (a line for each mark and machine).",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the estimate into a file; else it is printed.",
)
@shared_options
def estimate(
    wanted: Wanted, machines: tuple[Path, ...], bar: str | None, form: str, out: Path | None
) -> int:
    """Estimate what an order takes: machine time, man-hours, hours for a tonne and a short ton.

    Reckoned from the parts and the speeds and times of a machine's profile: moves of the bar with
    their acceleration, hits, drilling, stamping, cuts, loading, set-ups. What the profile does
    not say is assumed, and every assumption is printed with its source. Marks that are the same
    piece are named, with what setting them up once saves. Parts with errors are left out.
    """
    from translator.bars.estimate import compare
    from translator.errors import WorkError

    length = _bar_mm(bar)
    delivery = take(wanted, out.parent if out is not None else None)
    profiles, shop_floor = _machines(delivery, machines)
    if not profiles:
        raise click.UsageError("name a machine with --machine, or machines in the settings file")
    pairs = list(zip(delivery.outcome.parts, delivery.outcome.refused, strict=True))
    ready = [placed for placed, why in pairs if not why]
    if not ready:
        say(render(delivery, "text"))
        raise WorkError("there is no part to estimate")
    _say_left_out(pairs)
    made = spelled(compare(profiles, ready, length), form)
    if out is not None:
        from translator.batch.write import write_all

        write_all(out.parent, [(out.name, made)])
    else:
        say(made.decode("utf-8"))
    return max(exit_code(delivery, None), int(shop_floor))


COMMAND = estimate


def spelled(value: "Estimate", form: str) -> bytes:
    """Return an estimate in a format."""
    from translator.bars.estimate_document import estimate_csv, estimate_json
    from translator.bars.estimate_text import estimate_text

    if form == "csv":
        return estimate_csv(value)
    text = estimate_json(value) if form == "json" else estimate_text(value)
    return text.encode("utf-8", "backslashreplace")


def _bar_mm(text: str | None) -> float | None:
    from translator.lengths.parse import LengthError, read_length

    if text is None:
        return None
    try:
        length = read_length(text, "mm")
    except LengthError as error:
        raise click.UsageError(f"--bar: {error}") from None
    if length.bare is not None:
        raise click.UsageError(f"--bar is {text}; say its unit too, like {text}mm or {text}'")
    millimetres = float(length.mm)
    if not 0.0 < millimetres <= LONGEST_BAR_MM:
        raise click.UsageError(f"--bar is {text}, it must be more than 0 and at most 100 m")
    return millimetres


def _machines(delivery: Delivery, named: tuple[Path, ...]) -> "tuple[tuple[Machine, ...], bool]":
    """Return the profiles that are named, else those of the settings, and whether one is bad."""
    from translator.batch.machines import read_machines
    from translator.findings import Severity

    paths = named or tuple(
        {path.resolve(): path for own in delivery.configurations for path in own.machines}.values()
    )
    read = read_machines(paths)
    for finding in read.findings:
        span = finding.span
        remark(printable(f"{span.path}:{span.line}: {finding.severity.value}: {finding.message}"))
    bad = any(finding.severity is Severity.ERROR for finding in read.findings)
    return read.machines, bad


def _say_left_out(pairs: "list[tuple[Placed, str]]") -> None:
    """Name on the side, so that a document stays one, the parts that are not estimated."""
    for placed, why in pairs:
        if why:
            remark(printable(f"left out: {placed.part.mark} ({placed.places[''].path}): {why}"))
