"""What is printed for the bars of a plan: file name and bytes of each list."""

from collections.abc import Iterator, Sequence

from translator.bars.bar_list_page import bar_list_page
from translator.bars.estimate_document import estimate_csv, estimate_json
from translator.bars.estimate_model import Estimate
from translator.bars.estimate_page import estimate_page
from translator.bars.estimate_programs import estimate_programs
from translator.bars.estimate_text import estimate_text
from translator.bars.plan_model import Plan, PlannedBar
from translator.bars.program_model import Program
from translator.bars.setup_gather import of_programs
from translator.bars.setup_sheet import setup
from translator.bars.setup_text import setup_csv, setup_page, setup_text
from translator.machines.profile import Machine
from translator.model import Placed


def papers(
    plan: Plan, programs: Sequence[Program], parts: Sequence[Placed], machine: Machine
) -> Iterator[tuple[str, bytes]]:
    """Yield bar list, setup sheet and estimate of planned bars; labels are made apart.

    Args:
        plan: the plan.
        programs: the program of each of its bars, in its order.
        parts: the parts that lie on them.
        machine: the machine that both were made for.
    """
    sheet = setup(machine, of_programs(plan.bars, programs, parts))
    close = Estimate(machines=(estimate_programs(machine, plan, programs, parts),))
    texts = (
        ("bars.html", bar_list_page(plan)),
        ("estimate.html", estimate_page(close)),
        ("estimate.txt", estimate_text(close)),
        ("estimate.json", estimate_json(close)),
        ("setup.html", setup_page(sheet)),
        ("setup.txt", setup_text(sheet)),
    )
    for name, text in texts:
        yield name, text.encode("utf-8", "backslashreplace")
    yield "estimate.csv", estimate_csv(close)
    yield "setup.csv", setup_csv(sheet)


def workable(plan: Plan, programs: Sequence[Program]) -> tuple[PlannedBar, ...]:
    """Return the bars that have a program; only their pieces are ever cut and labelled."""
    return tuple(bar for bar, one in zip(plan.bars, programs, strict=True) if not one.refused)
