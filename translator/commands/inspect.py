"""``backmark inspect``: the sheet on which a first piece is measured."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from translator.commands._console import say
from translator.commands._delivery import Delivery, Wanted, shared_options, take
from translator.commands.check import exit_code, render
from translator.commands.show import about
from translator.findings import CAUTION
from translator.source import printable

if TYPE_CHECKING:
    from translator.model import Placed
    from translator.pages._tolerances import Code

SUFFIX = ".inspect.html"


@click.command("inspect", short_help="Write the sheet on which a first piece is measured.")
@click.argument("paths", nargs=1, metavar="FILE", callback=lambda _c, _p, value: (value,))
@click.argument("mark", required=False)
@click.option(
    "--out",
    required=True,
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Folder for the sheets, one for each part.",
)
@shared_options
def inspect(wanted: Wanted, mark: str | None, out: Path) -> int:
    """Write one sheet for each part of a file or folder, or for the part of one MARK.

    Each leg is drawn from outside with every dimension numbered, its nominal size, how far it
    may be off and who says so, and blanks to write in. Print it from a browser. Parts with
    errors get none.
    """
    from translator.batch.write import write_all
    from translator.errors import WorkError

    delivery = take(wanted, out)
    outcome = delivery.outcome
    pairs = zip(outcome.parts, outcome.refused, strict=True)
    chosen = [(p, why) for p, why in pairs if mark is None or p.part.mark == mark]
    if mark is not None and not chosen:
        known = ", ".join(p.part.mark for p in outcome.parts) or "none that can be read"
        raise WorkError(f"there is no part {mark} in {wanted.paths[0]}; there are: {known}")
    if mark is not None:
        delivery = about(delivery, mark)
    ready = [placed for placed, why in chosen if not why]
    files = [] if delivery.has_bad_settings else _files(delivery, ready)
    names = write_all(out, files)
    if exit_code(delivery, None):
        say(render(delivery, "text").removesuffix(f"{CAUTION}\n"))
    lines = [f"{len(names)} of {len(chosen)} sheets written in {out.as_posix()}"]
    lines += [f"not written: {placed.part.mark}: {why}" for placed, why in chosen if why]
    if delivery.has_bad_settings:
        lines.append("not written: everything: the settings file has errors")
    say("\n".join([printable(line) for line in lines] + ["", CAUTION]))
    return exit_code(delivery, None)


COMMAND = inspect


def _files(delivery: Delivery, ready: "list[Placed]") -> list[tuple[str, bytes]]:
    from translator.batch.names import stems
    from translator.pages.inspection import Sheet
    from translator.pages.inspection import render as sheet

    stem = stems((placed.part.order or "", placed.part.mark) for placed in ready)
    return [
        (
            stem[placed.part.order or "", placed.part.mark] + SUFFIX,
            sheet(
                Sheet(
                    part=placed.part,
                    code=_code(delivery, placed),
                    shop=delivery.settings[placed.places[""].path].tolerances,
                )
            ).encode("utf-8"),
        )
        for placed in ready
    ]


def _code(delivery: Delivery, placed: "Placed") -> "Code":
    """Return whose tolerances count: the settings' code, else that of the part's units."""
    practice = delivery.settings[placed.places[""].path].practice
    codes = practice.codes_for(placed.part.units)
    return codes[0] if codes else ("us" if placed.part.units == "inch" else "eu")
