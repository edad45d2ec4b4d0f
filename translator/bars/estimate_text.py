"""The estimate as a person reads it: text of at most 100 columns."""

import textwrap
from collections.abc import Iterator
from typing import Final

from translator.bars.estimate_model import Estimate, MachineEstimate
from translator.bars.estimate_rows import (
    ACTIVITIES,
    MACHINES,
    PIECES,
    activity_rows,
    assumed_words,
    bar_table,
    by_hand,
    common_rows,
    compared_rows,
    merging_words,
    not_made,
    piece_rows,
    rate_rows,
    total_rows,
)
from translator.bars.text_table import table
from translator.bars.wording import many
from translator.findings import CAUTION
from translator.source import printable

WIDTH: Final = 100


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
    yield from table(MACHINES, list(compared_rows(estimate)), numbers=range(1, 7))
    marks = len(estimate.machines[0].pieces) if estimate.machines else 0
    if not estimate.common_marks:
        yield "  No mark can be made on all of them, so there is nothing to hold side by side."
    elif estimate.common_marks < marks:
        yield ""
        yield f"  Only the {many(estimate.common_marks, 'mark')} that all of them make:"
        yield from table(MACHINES, list(common_rows(estimate)), numbers=range(1, 7))


def _machine(one: MachineEstimate) -> Iterator[str]:
    title = printable(f"ESTIMATE FOR {one.machine}, {basis_words(one)}")
    yield from textwrap.wrap(title, WIDTH, subsequent_indent="  ")
    for word, said in total_rows(one):
        yield f"  {word:<15}{said}"
    for word, said in rate_rows(one):
        yield f"    {word:<15}{said}"
    yield ""
    rows = list(piece_rows(one))
    if rows:
        yield from table(PIECES, rows, numbers=(1, 3, 4, 5, 6, 7, 8))
    yield from _listed("Can't be made here, and is in no figure above", _told(not_made(one)))
    yield from _listed("Left to do by hand, in no figure above", _told(by_hand(one)))
    yield ""
    yield "  Machine time goes into"
    yield from table(ACTIVITIES, list(activity_rows(one)), numbers=(1, 2), indent=4)
    head, rows, numbers = bar_table(one)
    if rows:
        yield ""
        yield "  Bars"
        yield from table(head, rows, numbers=numbers, indent=4)
    yield from _listed("Equal marks", merging_words(one))
    # The field would make a table too wide.
    assumed = [f"{w}: {f} ({s}); say {field}" for w, f, s, field in assumed_words(one)]
    if assumed:
        yield from _listed("Assumed, since the profile does not say", iter(assumed))
    else:
        yield ""
        yield "  Nothing assumed: the profile has every figure that was used."
    yield from _listed("How it is reckoned", iter(one.method))


def basis_words(one: MachineEstimate) -> str:
    """Return what an estimate was reckoned from."""
    return "from the parts alone" if one.basis == "parts" else "from the programs of its bars"


def _told(pairs: Iterator[tuple[str, str]]) -> Iterator[str]:
    return (f"{word}: {said}" for word, said in pairs)


def _listed(title: str, sentences: Iterator[str]) -> Iterator[str]:
    """Yield a title and sentences below it; nothing where there is none."""
    for number, sentence in enumerate(sentences):
        if number == 0:
            yield ""
            yield f"  {title}"
        yield from textwrap.wrap(
            printable(sentence), WIDTH, initial_indent="    ", subsequent_indent="      "
        )
