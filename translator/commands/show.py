"""``backmark show``: one part to look at."""

from typing import TYPE_CHECKING

import click
from msgspec.structs import replace

from translator.commands._console import say
from translator.commands._delivery import Delivery, Wanted, shared_options, take
from translator.commands.check import exit_code, render

if TYPE_CHECKING:
    from translator.model import Placed


@click.command("show", short_help="Show one part, both legs drawn from outside.")
@click.argument("paths", nargs=1, metavar="FILE", callback=lambda _c, _p, value: (value,))
@click.argument("mark", required=False)
@shared_options
def show(wanted: Wanted, mark: str | None) -> int:
    """Show one part: summary, features by leg, stops, and each leg drawn from outside.

    A file of several parts lists them; name the MARK to see one.
    """
    from translator.commands._sheet import line_of, sheet
    from translator.errors import WorkError

    delivery = take(wanted)
    parts = [p for p in delivery.outcome.parts if mark is None or p.part.mark == mark]
    if mark is not None and not parts:
        known = ", ".join(p.part.mark for p in delivery.outcome.parts) or "none that can be read"
        raise WorkError(f"there is no part {mark} in {wanted.paths[0]}; there are: {known}")
    if len(parts) == 1:
        say(sheet(parts[0]))
    elif parts:
        say("\n".join(line_of(placed) for placed in parts))
        say(f"\n{_which(parts, mark)}")
    if mark is not None:
        delivery = about(delivery, mark)
    if delivery.outcome.verdict.findings or not parts:
        say(render(delivery, "text"))
    return exit_code(delivery, None)


COMMAND = show


def _which(parts: "list[Placed]", mark: str | None) -> str:
    """Say what to name to see one of some parts."""
    if mark is None:
        return "Name one of these marks to see it."
    from translator.source import printable

    files = list(dict.fromkeys(placed.places[""].path for placed in parts))
    if len(files) == 1:
        return printable(f"{mark} stands {len(parts)} times in {files[0]}; rename all but one.")
    return printable(f"{mark} stands in several files: {', '.join(files)}; name one of them.")


def about(delivery: Delivery, mark: str) -> Delivery:
    """Leave what is said about other parts out."""
    verdict = delivery.outcome.verdict
    kept = tuple(f for f in verdict.findings if f.mark in ("", mark))
    own = replace(verdict, findings=kept)
    return replace(delivery, outcome=replace(delivery.outcome, verdict=own))
