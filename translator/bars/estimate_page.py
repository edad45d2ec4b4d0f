"""The estimate as one page to print, in the frame of the other lists."""

from collections.abc import Iterator

from translator.bars.estimate_model import Estimate, MachineEstimate
from translator.bars.estimate_rows import (
    ACTIVITIES,
    ASSUMED,
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
from translator.bars.estimate_text import basis_words
from translator.bars.page_frame import framed, said
from translator.bars.row_table import rows_table
from translator.bars.wording import many
from translator.pages._html import escaped


def estimate_page(estimate: Estimate) -> str:
    """Return an estimate as one page that loads nothing; the same bytes every time."""
    return framed("Estimate", _body(estimate))


def _body(estimate: Estimate) -> Iterator[str]:
    yield "<h1>Estimate</h1>\n"
    if len(estimate.machines) > 1:
        title = "Machines compared by all that each makes"
        yield rows_table(title, MACHINES, list(compared_rows(estimate)), numeric=range(1, 7))
        title = f"By the {many(estimate.common_marks, 'mark')} that all of them make"
        if estimate.common_marks:
            yield rows_table(title, MACHINES, list(common_rows(estimate)), numeric=range(1, 7))
    for one in estimate.machines:
        yield from _machine(one)


def _machine(one: MachineEstimate) -> Iterator[str]:
    yield f"<h2><bdi>{escaped(one.machine)}</bdi> <small>{basis_words(one)}</small></h2>\n"
    yield from said([*total_rows(one), *rate_rows(one)])
    for sentence in merging_words(one):
        yield f"<p>{escaped(sentence[:1].upper() + sentence[1:])}.</p>\n"
    head, bars, figures = bar_table(one)
    tables = (
        ("Marks", PIECES, list(piece_rows(one)), (1, 3, 4, 5, 6, 7, 8)),
        ("Can't be made here, in no figure", ("mark", "why"), list(not_made(one)), ()),
        ("Left to do by hand, in no figure", ("mark", "what"), list(by_hand(one)), ()),
        ("Machine time goes into", ACTIVITIES, list(activity_rows(one)), (1, 2)),
        ("Bars", head, bars, figures),
        ("Assumed, since the profile does not say", ASSUMED, list(assumed_words(one)), ()),
    )
    for title, names, rows, numeric in tables:
        if rows:
            yield rows_table(title, names, rows, numeric=numeric)
    yield "<p>How it is reckoned:</p>\n<ul>"
    yield from (f"<li>{escaped(sentence)}</li>" for sentence in one.method)
    yield "</ul>\n"
