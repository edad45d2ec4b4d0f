"""``backmark estimate``: hours of machines and people for an order, and for each tonne."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._lists import deliver, machines_of, millimetres, ready_parts
from translator.commands._options import machines_option, path_option
from translator.commands.check import exit_code

if TYPE_CHECKING:
    from translator.bars.estimate_model import Estimate

FORMATS: Final = ("text", "json", "csv", "html")

LONGEST_BAR_MM: Final = 100_000.0
"""No mill rolls a longer bar; a larger figure is a slip of the pen."""


@click.command("estimate", short_help="Estimate hours of machines and people for each tonne.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@machines_option(
    "Profile of a machine (JSON); given again, machines are compared. Else those of the"
    " settings file."
)
@click.option(
    "--bar",
    metavar="LENGTH",
    help="Length of bar to reckon with, like 20' or 6100mm; else 20 ft for parts in inches and"
    " 6 m for others.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    default="text",
    help="text (default), json (backmark/estimate), csv (a line for each mark and machine), or html"
    " (a page to print).",
)
@path_option(
    "--out",
    "FILE",
    "Write the estimate into a file; else it is printed.",
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

    length = _bar_mm(bar)
    delivery = take(wanted)
    profiles, is_bad = machines_of(delivery, machines)
    ready = ready_parts(delivery)
    deliver(spelled(compare(profiles, ready, length), form), out)
    return max(exit_code(delivery, None), int(is_bad))


COMMAND = estimate


def spelled(value: "Estimate", form: str) -> bytes:
    """Return an estimate in a format."""
    from translator.bars.estimate_document import estimate_csv, estimate_json
    from translator.bars.estimate_page import estimate_page
    from translator.bars.estimate_text import estimate_text

    if form == "csv":
        return estimate_csv(value)
    spell = {"json": estimate_json, "html": estimate_page}.get(form, estimate_text)
    return spell(value).encode("utf-8", "backslashreplace")


def _bar_mm(text: str | None) -> float | None:
    if text is None:
        return None
    length = millimetres(text, "--bar")
    if not 0.0 < length <= LONGEST_BAR_MM:
        raise click.UsageError(f"--bar is {text}, it must be more than 0 and at most 100 m")
    return length
