"""``backmark labels``: a label for every piece or bundle, to print or as a table."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from translator.commands._delivery import Wanted, shared_options, take
from translator.commands._lists import deliver, ready_parts
from translator.commands.check import exit_code

if TYPE_CHECKING:
    from translator.bars.label_layout import SheetSize
    from translator.bars.labels import Each, Label

FORMATS: Final = ("html", "csv")
PAPERS: Final = ("A4", "letter", "roll")

MOST_LABELS: Final = 100_000
"""More labels than a printer prints in a week are a slip of the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """The options of a command line."""

    each: "Each"
    most: int | None
    release: str
    form: str
    size: str
    paper: str
    margin: str
    gap: str
    skip: int
    code: bool
    out: Path | None


@click.command("labels", short_help="Make labels for pieces or bundles.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option(
    "--each",
    type=click.Choice(("piece", "bundle")),
    default="piece",
    help="What gets a label: each piece (default), or each bundle of equal pieces.",
)
@click.option(
    "--bundle",
    "most",
    type=click.IntRange(1, 10_000),
    metavar="COUNT",
    help="Most pieces of a bundle; else all of a mark are one.",
)
@click.option("--release", default="", metavar="ID", help="Release that the pieces belong to.")
@click.option(
    "--format", "form", type=click.Choice(FORMATS), default="html", help="html (default) or csv."
)
@click.option(
    "--size",
    default="70x37mm",
    metavar="WxH",
    help="Width and height of a label with their unit, like 70x37mm (default) or 4x2in.",
)
@click.option(
    "--paper", type=click.Choice(PAPERS), default="A4", help="Sheet (default A4), or a roll."
)
@click.option(
    "--margin", default="0mm", metavar="LENGTH", help="Border of the sheet that stays free."
)
@click.option("--gap", default="0mm", metavar="LENGTH", help="Gap between labels.")
@click.option(
    "--skip",
    type=click.IntRange(0, 1_000),
    default=0,
    metavar="COUNT",
    help="Labels of the first sheet that are already used up.",
)
@click.option(
    "--code", is_flag=True, help="Put a QR code on each; needs the extra 'labels' (segno)."
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the labels into a file; else they are printed on the terminal.",
)
@shared_options
def labels(wanted: Wanted, **given: Any) -> int:  # noqa: ANN401 - click's options, named below
    """Make labels: mark, order, drawing, revision, which of how many, section, length, grade.

    Laid out on sheets of labels of any size, or on a roll, as a page to print from a browser;
    long marks are set smaller and broken, never cut off at the edge. As CSV for a printer that
    lays labels out itself. Parts with errors get none.
    """
    from translator.bars.labels import part_labels

    asked = _Asked(**given)
    sheet = sheet_size(asked)
    delivery = take(wanted, asked.out.parent if asked.out is not None else None)
    ready = ready_parts(delivery)
    _not_too_many(sum(p.part.quantity for p in ready) if asked.each == "piece" else 0)
    made = list(part_labels(ready, asked.each, asked.release, asked.most))
    deliver(spelled(made, asked.form, sheet, skip=asked.skip, with_code=asked.code), asked.out)
    return exit_code(delivery, None)


COMMAND = labels


def spelled(
    made: "Sequence[Label]", form: str, sheet: "SheetSize", *, skip: int, with_code: bool
) -> bytes:
    """Return labels in a format."""
    from translator.bars.label_code import qr_code
    from translator.bars.label_page import labels_page
    from translator.bars.labels import labels_csv

    if form == "csv":
        return labels_csv(made)
    code = qr_code if with_code else None
    return labels_page(made, sheet, skip=skip, code=code).encode("utf-8", "backslashreplace")


def sheet_size(asked: _Asked) -> "SheetSize":
    """Return the sheet that options name.

    Raises:
        UsageError: when they are no sizes, or no label fits on the paper.
    """
    from translator.bars.label_layout import PAPERS as SHEETS
    from translator.bars.label_layout import SheetSize

    width, height = _sides(asked.size)
    if asked.paper == "roll":
        return SheetSize(
            label_width=width, label_height=height, paper_width=width, paper_height=height
        )
    across, down = SHEETS[asked.paper]
    sheet = SheetSize(
        label_width=width,
        label_height=height,
        paper_width=across,
        paper_height=down,
        margin=_side(asked.margin, "--margin"),
        gap=_side(asked.gap, "--gap"),
    )
    if not sheet.per_sheet:
        raise click.UsageError(
            f"no label of {asked.size} fits on {asked.paper} with a margin of {asked.margin}"
        )
    return sheet


def _sides(text: str) -> tuple[float, float]:
    from translator.bars.label_layout import LEAST_MM, MOST_MM

    unit = next((u for u in ("mm", "in") if text.lower().endswith(u)), "")
    first, cross, second = text.lower().removesuffix(unit).partition("x")
    if not (unit and cross):
        raise click.UsageError(f"--size is {text}, it must be like 70x37mm or 4x2in")
    sides = _side(first + unit, "--size"), _side(second + unit, "--size")
    if not all(LEAST_MM <= side <= MOST_MM for side in sides):
        raise click.UsageError(
            f"--size is {text}, each side must be {LEAST_MM:g} to {MOST_MM:g} mm"
        )
    return sides


def _side(text: str, option: str) -> float:
    from translator.commands._lists import millimetres

    return millimetres(text.strip(), option)


def _not_too_many(count: int) -> None:
    from translator.errors import WorkError

    if count > MOST_LABELS:
        raise WorkError(
            f"{count} labels are more than the {MOST_LABELS} of one run; take --each bundle, or"
            " fewer parts at a time"
        )
