"""The options of labels, shared by the commands that make some."""

import functools
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, Final

import click
from msgspec import Struct

from translator.commands._lists import millimetres

if TYPE_CHECKING:
    from translator.bars.label_layout import SheetSize
    from translator.bars.labels import Each, Label

PAPERS: Final = ("A4", "letter", "roll")

MOST_LABELS: Final = 20_000
"""More labels than a printer prints in a week are a slip of the pen."""


class LabelOptions(Struct, frozen=True, kw_only=True):
    """What a command line says of labels."""

    each: "Each"
    most: int | None
    release: str
    size: str
    paper: str
    margin: str
    gap: str
    skip: int
    code: bool


_OPTIONS: Final = (
    click.option(
        "--each",
        type=click.Choice(("piece", "bundle")),
        default="piece",
        help="What gets a label: each piece (default), or each bundle of equal pieces.",
    ),
    click.option(
        "--bundle",
        "most",
        type=click.IntRange(1, 10_000),
        metavar="COUNT",
        help="Most pieces of a bundle; else all of a mark that lie together are one.",
    ),
    click.option("--release", default="", metavar="ID", help="Release that the pieces belong to."),
    click.option(
        "--size",
        default="70x37mm",
        metavar="WxH",
        help="Width and height of a label with their unit, like 70x37mm (default) or 4x2in.",
    ),
    click.option(
        "--paper",
        type=click.Choice(PAPERS),
        default="A4",
        help="Sheet (default A4), or a roll.",
    ),
    click.option(
        "--margin", default="0mm", metavar="LENGTH", help="Border of the sheet to keep free."
    ),
    click.option("--gap", default="0mm", metavar="LENGTH", help="Gap between labels."),
    click.option(
        "--skip",
        type=click.IntRange(0, 1_000),
        default=0,
        metavar="COUNT",
        help="Labels of the first sheet that are already used up.",
    ),
    click.option(
        "--code", is_flag=True, help="Put a QR code on each; needs the extra 'labels' (segno)."
    ),
)


def label_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options of labels, given to the command as ``asked``."""

    @functools.wraps(command)
    def gathered(*args: Any, **given: Any) -> Any:  # noqa: ANN401 - click's signature
        names = LabelOptions.__struct_fields__
        asked = LabelOptions(**{name: given.pop(name) for name in names})
        return command(*args, asked=asked, **given)

    wrapped: Callable[..., Any] = gathered
    for option in reversed(_OPTIONS):
        wrapped = option(wrapped)
    return wrapped


def labels_html(made: "Sequence[Label]", asked: LabelOptions) -> bytes:
    """Return labels as a page to print."""
    from translator.bars.label_code import qr_code
    from translator.bars.label_page import labels_page

    code = qr_code if asked.code else None
    page = labels_page(made, sheet_size(asked), skip=asked.skip, code=code)
    return page.encode("utf-8", "backslashreplace")


def sheet_size(asked: LabelOptions) -> "SheetSize":
    """Return the sheet that options name.

    Raises:
        UsageError: when they are no sizes, or no label fits on the paper.
    """
    from translator.bars.label_layout import PAPERS as SHEETS
    from translator.bars.label_layout import SheetSize

    if asked.most is not None and asked.each == "piece":
        raise click.UsageError("--bundle goes with --each bundle")
    width, height = _sides(asked.size)
    if asked.paper == "roll":
        if asked.skip:
            raise click.UsageError("--skip is for sheets; a roll has no places to skip")
        return SheetSize(
            label_width=width, label_height=height, paper_width=width, paper_height=height
        )
    across, down = SHEETS[asked.paper]
    sheet = SheetSize(
        label_width=width,
        label_height=height,
        paper_width=across,
        paper_height=down,
        margin=millimetres(asked.margin, "--margin"),
        gap=millimetres(asked.gap, "--gap"),
    )
    if not sheet.per_sheet:
        raise click.UsageError(
            f"no label of {asked.size} fits on {asked.paper} with a margin of {asked.margin}"
        )
    if asked.skip >= sheet.per_sheet:
        raise click.UsageError(
            f"--skip is {asked.skip}, it must be less than the {sheet.per_sheet} labels of a sheet"
        )
    return sheet


def _sides(text: str) -> tuple[float, float]:
    from translator.bars.label_layout import LEAST_MM, MOST_MM

    unit = next((u for u in ("mm", "in") if text.lower().endswith(u)), "")
    first, cross, second = text.lower().removesuffix(unit).partition("x")
    if not (unit and cross):
        raise click.UsageError(f"--size is {text}, it must be like 70x37mm or 4x2in")
    sides = millimetres(first + unit, "--size"), millimetres(second + unit, "--size")
    if not all(LEAST_MM <= side <= MOST_MM for side in sides):
        limits = f"{LEAST_MM:g} to {MOST_MM:g} mm"
        raise click.UsageError(f"--size is {text}, each side must be {limits}")
    return sides


def not_too_many(count: int) -> None:
    """Refuse more labels than a run may make.

    Raises:
        WorkError: with a sentence.
    """
    from translator.errors import WorkError

    if count > MOST_LABELS:
        raise WorkError(
            f"{count} labels are more than the {MOST_LABELS} of one run; take --each bundle, or"
            " fewer parts at a time"
        )
