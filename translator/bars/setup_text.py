"""The setup sheet as text, as a table and as a page to print."""

import textwrap
from collections.abc import Iterator
from typing import Final

from translator.bars.page_frame import framed, said
from translator.bars.row_table import rows_table
from translator.bars.setup_model import Setup
from translator.bars.setup_rows import (
    FIRST,
    GAUGES,
    STAMPS,
    STOCK,
    TOOLS,
    Row,
    first_rows,
    gauge_rows,
    measure_rows,
    stamp_rows,
    stamp_words,
    stock_rows,
    tool_rows,
)
from translator.bars.text_table import table
from translator.bars.wording import many
from translator.documents.csv_text import csv_bytes
from translator.findings import CAUTION
from translator.pages._html import escaped
from translator.source import printable

_WIDTH: Final = 100


def setup_text(setup: Setup) -> str:
    """Return a setup sheet as text of at most 100 columns."""
    lines = _wrapped(printable(f"SETUP FOR {setup.machine}: {_counts(setup)}"), 0)
    for sentence in (*fetches(setup), *_left_out(setup), *notes(setup)):
        lines += _wrapped(printable(sentence), 2)
    for title, head, rows, numbers in _tables(setup):
        if rows and title == "Tools":
            lines += ["", f"  {title}", *_tools_text(rows)]
        elif rows and title == "Stamps":
            words = [line for text in stamp_words(setup) for line in _wrapped(printable(text), 4)]
            lines += ["", f"  {title}", *words, *table(head, rows, numbers=numbers, indent=4)]
        elif rows:
            lines += ["", f"  {title}", *table(head, rows, numbers=numbers, indent=4)]
    lines += ["", *_first_text(setup), *textwrap.wrap(CAUTION, _WIDTH)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _tools_text(rows: list[Row]) -> Iterator[str]:
    """Yield the tools with the marks of each on lines of their own: they may be many."""
    head, *lines = table(TOOLS[:-1], [row[:-1] for row in rows], numbers=(6,), indent=4)
    yield head
    for line, row in zip(lines, rows, strict=True):
        yield line
        yield from _wrapped(printable(f"for {row[-1]}"), 8)


def _first_text(setup: Setup) -> Iterator[str]:
    if setup.first_pieces:
        yield "  First piece of each mark: stop and measure"
    for first in setup.first_pieces:
        head = printable(f"{first.mark}  {first.section}, {first.lead_end} end leads")
        yield from _wrapped(head, 4)
        yield from table(("", ""), list(measure_rows(first)), indent=6)
        for work in first.second_work:
            yield from _wrapped(printable(f"then by hand: {work}"), 6)
    yield ""


def _wrapped(text: str, indent: int) -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2)
    )


def fetches(setup: Setup) -> Iterator[str]:
    """Yield what must be brought before the batch can run, and what can't be had."""
    for station in setup.stations:
        for tool in station.tools:
            if tool.place == "crib":
                yield (
                    f"Fetch tool {tool.number} ({tool.what}) from the crib for station"
                    f" {station.name}: {many(tool.uses, 'hit')} of {', '.join(tool.marks)}"
                )
    if setup.stamps is not None and setup.stamps.missing:
        yield f"The stamp set lacks {' '.join(setup.stamps.missing)}"


def _left_out(setup: Setup) -> Iterator[str]:
    for mark, why in setup.not_made:
        yield f"{mark} can't be made: {why}"


def notes(setup: Setup) -> Iterator[str]:
    """Yield what is not needed, and further remarks."""
    if setup.idle:
        yield f"Nothing to do for {', '.join(setup.idle)}"
    for station in setup.stations:
        if station.not_used:
            yield f"Station {station.name} does not need {', '.join(station.not_used)}"
    for remark in setup.remarks:
        yield remark[:1].upper() + remark[1:]


def _counts(setup: Setup) -> str:
    tools = sum(len(station.tools) for station in setup.stations)
    return f"{many(len(setup.first_pieces), 'mark')}, {many(tools, 'tool')}"


def _tables(
    setup: Setup,
) -> Iterator[tuple[str, tuple[str, ...], list[Row], tuple[int, ...]]]:
    yield "Steel to load", STOCK, list(stock_rows(setup)), (2, 3)
    yield "Tools", TOOLS, list(tool_rows(setup)), (6,)
    yield "Gauges", GAUGES, list(gauge_rows(setup)), (1, 2, 3)
    yield "Stamps", STAMPS, list(stamp_rows(setup)), (2, 3)


def setup_csv(setup: Setup) -> bytes:
    """Return the tools of a setup sheet as a table, a line for each tool of each station."""
    head = (*TOOLS[:-1], "marks")
    return csv_bytes(head, ([*row[:6], int(row[6]), row[7]] for row in tool_rows(setup)))


def setup_page(setup: Setup) -> str:
    """Return a setup sheet as one page to print; the same bytes every time."""
    return framed(f"Setup for {setup.machine}", _body(setup))


def _body(setup: Setup) -> Iterator[str]:
    yield f"<h1>Setup: <bdi>{escaped(setup.machine)}</bdi></h1>\n"
    yield from said([("batch", _counts(setup))], blanks=("set by", "checked by", "date"))
    for sentence in fetches(setup):
        yield f'<p class="warn">{escaped(sentence)}.</p>\n'
    if setup.not_made:
        why = ("mark", "can't be made on this machine, since")
        yield rows_table("Marks left out", why, setup.not_made)
    for sentence in notes(setup):
        yield f"<p>{escaped(sentence)}.</p>\n"
    for title, head, rows, numbers in _tables(setup):
        if rows:
            for sentence in stamp_words(setup) if title == "Stamps" else ():
                yield f"<p>{escaped(sentence)}.</p>\n"
            yield rows_table(title, head, rows, numeric=numbers)
    rows = list(first_rows(setup))
    if rows:
        yield "<h2>First piece of each mark: stop and measure</h2>\n"
        yield rows_table("What is measured", FIRST, rows, numeric=(4,), blank=(8,))
