"""``backmark plan``: which bars to load, and what comes off each."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click
from msgspec import Struct

from translator.commands._console import remark, say
from translator.commands._delivery import Wanted, shared_options
from translator.commands._lists import machines_of, millimetres
from translator.commands._options import machines_option, path_option
from translator.commands._plan_inputs import Parts, parts_of, progress_of, stock_of, tell
from translator.commands.check import exit_code
from translator.findings import CAUTION
from translator.source import printable

if TYPE_CHECKING:
    from translator.bars.plan_model import Plan, StockLine, Unplaced
    from translator.bars.plan_terms import Remnants, Terms
    from translator.machines import Machine
    from translator.model import Placed

FORMATS: Final = ("text", "json", "csv")

FILES: Final = ("plan.json", "plan.txt", "cut-list.csv", "stock-left.csv")
"""What --out writes."""

LONGEST_BAR_MM: Final = 100_000.0
"""No mill rolls a longer bar; a larger figure is a slip of the pen."""


class _Asked(Struct, frozen=True, kw_only=True):
    """The options of a command line."""

    stock: Path | None
    standard: str | None
    machines: tuple[Path, ...]
    fill: str | None
    done: Path | None
    phases: tuple[str, ...]
    remnants: "Remnants"
    least_remnant: str | None
    shared_mitres: bool
    form: str
    out: Path | None


@click.command("plan", short_help="Plan which bars to load and what comes off each.")
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@path_option(
    "--stock",
    "FILE",
    "Stock list (CSV): section, grade, length (20', 6000mm; or length_mm, length_in), count"
    " (empty = bought as wanted), remnant, heat, certificate, location, price.",
)
@click.option(
    "--standard",
    metavar="LENGTHS",
    help="Lengths that can be bought in every section, like 20',40' or 6000mm,12000mm.",
)
@machines_option("Profile of the machine (JSON); else the first of the settings file.")
@click.option(
    "--fill",
    metavar="LENGTH",
    help="Only say how many of each piece a bar of this length gives, with the arithmetic.",
)
@path_option(
    "--done",
    "FILE",
    "What is cut already (CSV): mark, order, done, recut (pieces to cut again), priority"
    " (greater = loaded earlier).",
)
@click.option(
    "--phase",
    "phases",
    multiple=True,
    metavar="NAME",
    help="Only parts of this phase; may be given again.",
)
@click.option(
    "--remnants",
    type=click.Choice(("first", "equal", "keep")),
    default="first",
    help="first (default): a remnant costs a tenth of new steel; equal: as any bar; keep: none"
    " is used.",
)
@click.option(
    "--least-remnant",
    metavar="LENGTH",
    help="Shortest drop that goes back into stock; else the shortest bar the machine takes.",
)
@click.option(
    "--shared-mitres",
    is_flag=True,
    help="Let one mitre cut make the ends of two pieces; the saving is told.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    default="text",
    help="What is printed: text (default), json (backmark/plan), or csv (the cut list).",
)
@path_option(
    "--out",
    "DIR",
    f"Folder for {', '.join(FILES)}.",
)
@shared_options
def plan(wanted: Wanted, **given: Any) -> int:  # noqa: ANN401 - one value for each option
    r"""Plan the bars of an order: what to load, what comes off each in what order, what is left.

    PATH... are part files or folders, or one release, of which marks on hold are left out. The
    plan needs a machine, whose cut, front trim and dead length count, and bars: a stock list
    (--stock), lengths that can be bought (--standard), or both. Pieces are planned by section
    and grade; for each of these a bound is printed that no plan can beat, and how near the plan
    comes to it. The same input gives the same plan.

    Parts with errors, parts that the machine can't make and pieces that find no bar are told with
    the reason, and the exit code is then 1.

    \b
        backmark plan clips.bmk --stock stock.csv --machine line.machine.json --out bars
        backmark plan --fill 20' clips.bmk --machine line.machine.json
    """
    asked = _Asked(**given)
    parts = parts_of(wanted, asked.out)
    machine = _machine(parts, asked)
    if asked.fill is not None:
        return _fill(parts, machine, _bar(asked.fill, "--fill"), _terms(asked))
    made = _plan(parts, machine, asked)
    say(_spelt(made, asked.form))
    if asked.out is not None:
        _write(made, asked.out)
    missing = any(line.kind not in ("on-hold", "later") for line in made.unplaced)
    found = 0 if parts.is_released else exit_code(parts.delivery, None)
    return max(found, int(missing))


COMMAND = plan


def _machine(parts: Parts, asked: _Asked) -> "Machine":
    from translator.errors import WorkError

    machines, is_bad = machines_of(parts.delivery, asked.machines)
    if is_bad or not machines:
        raise WorkError("a machine profile is not understood: see above")
    if len(machines) > 1:
        remark(printable(f"planned for {machines[0].name}, the first of {len(machines)} machines"))
    return machines[0]


def _terms(asked: _Asked) -> "Terms":
    from translator.bars.plan_terms import Terms

    least = asked.least_remnant
    return Terms(
        remnants=asked.remnants,
        least_remnant_mm=None if least is None else _bar(least, "--least-remnant"),
        shared_mitres=asked.shared_mitres,
        phases=asked.phases,
    )


def _plan(parts: Parts, machine: "Machine", asked: _Asked) -> "Plan":
    from translator.bars.demand import demands
    from translator.bars.plan import plan_bars

    ready = [p for p in parts.ready if not asked.phases or p.part.phase in asked.phases]
    later = [p for p in parts.ready if asked.phases and p.part.phase not in asked.phases]
    on_hand = stock_of(asked.stock) if asked.stock is not None else ()
    stock = [*on_hand, *_standard(asked, ready, machine)]
    wanted, strangers = demands(ready, progress_of(asked.done))
    tell(strangers)
    left_out = (*parts.left_out, *(_later(placed) for placed in later))
    made = plan_bars(wanted, stock, machine, _terms(asked), left_out)
    bought = {line.id for line in stock} - {line.id for line in on_hand}
    return made.model_copy(
        update={"left": tuple(line for line in made.left if line.id not in bought)}
    )


def _later(placed: "Placed") -> "Unplaced":
    from translator.bars.demand import source_of
    from translator.bars.plan_model import Unplaced

    part = placed.part
    phase = f"phase {part.phase}" if part.phase else "no phase"
    return Unplaced(
        order=part.order,
        mark=part.mark,
        source=source_of(placed),
        count=part.quantity,
        kind="later",
        why=f"{phase}, which was not asked for",
    )


def _standard(
    asked: _Asked, ready: "Sequence[Placed]", machine: "Machine"
) -> "Iterator[StockLine]":
    """Yield the lengths that can be bought, in every section and grade that is wanted."""
    from translator.bars.stock import grade_key, section_key, standard_lines

    if asked.stock is None and asked.standard is None:
        raise click.UsageError(
            "a plan needs bars: name a stock list with --stock, or lengths that can be bought with"
            " --standard"
        )
    if asked.standard is not None:
        keys = {
            (section_key(p.part.section), grade_key(p.part.grade or machine.assumed_grade))
            for p in ready
        }
        lengths = [_bar(text.strip(), "--standard") for text in asked.standard.split(",")]
        yield from standard_lines(sorted(set(lengths)), sorted(keys))


def _bar(text: str, option: str) -> float:
    length = millimetres(text, option)
    if not 0.0 < length <= LONGEST_BAR_MM:
        raise click.UsageError(f"{option} is {text}, it must be more than 0 and at most 100 m")
    return length


def _fill(parts: Parts, machine: "Machine", bar_mm: float, terms: "Terms") -> int:
    from translator.bars.fill import fill, fill_text
    from translator.bars.plan_terms import options_of

    options = options_of(machine, terms)
    counted = [fill(machine, placed, bar_mm, options) for placed in parts.ready]
    lines = [fill_text(one) for one in counted]
    lines += [f"{line.mark}: not counted: {line.why}" for line in parts.left_out]
    say("\n".join([*(printable(row) for each in lines for row in each.split("\n")), "", CAUTION]))
    return int(bool(parts.left_out) or any(one.why_not for one in counted))


def _spelt(made: "Plan", form: str) -> str:
    from translator.bars.plan_document import plan_json
    from translator.bars.plan_tables import cut_list
    from translator.bars.plan_text import plan_text

    if form == "csv":
        return cut_list(made).decode("utf-8")
    return plan_json(made) if form == "json" else plan_text(made)


def _write(made: "Plan", out: Path) -> None:
    from translator.batch.write import write_all

    write_all(out, _files(made))
    remark(printable(f"written in {out.as_posix()}: {', '.join(FILES)}"))


def _files(made: "Plan") -> Iterator[tuple[str, bytes]]:
    from translator.bars.plan_document import plan_json
    from translator.bars.plan_tables import cut_list
    from translator.bars.plan_text import plan_text
    from translator.bars.stock import stock_csv

    texts = (plan_json(made), plan_text(made))
    data = [text.encode("utf-8", "backslashreplace") for text in texts]
    yield from zip(FILES, (*data, cut_list(made), stock_csv(made.left)), strict=True)
