"""A setup sheet as rows of words: what its text, its CSV and its page have in common."""

from collections.abc import Iterator

from translator.bars.setup_model import FirstPiece, Setup, SetupTool, StockUse
from translator.bars.wording import decimal, length_words, size_words, tool_words

Row = tuple[str, ...]

TOOLS = ("station", "side", "process", "tool", "size", "stands", "hits", "marks")
GAUGES = ("station", "from heel", "machine shows", "hits")
STOCK = ("section", "grade", "length", "count", "heats")
FIRST = ("mark", "order", "rev.", "section", "pieces", "leads", "measure", "nominal", "measured")
STAMPS = ("mark", "text", "height", "stamps")


def tool_rows(setup: Setup) -> Iterator[Row]:
    """Yield a row for each tool of each station."""
    for station in setup.stations:
        for tool in station.tools:
            yield (
                *(station.name, station.side, station.process, tool.number, tool.what),
                *(place_words(tool), str(tool.uses), ", ".join(tool.marks)),
            )


def place_words(tool: SetupTool) -> str:
    """Return where a tool stands, and what fetching it takes."""
    if tool.place == "loaded":
        return "loaded"
    if tool.change_s is None:
        return "FETCH from the crib"
    return f"FETCH from the crib, {decimal(tool.change_s, 0)} s"


def gauge_rows(setup: Setup) -> Iterator[Row]:
    """Yield a row for each gauge that a station is set to."""
    for station in setup.stations:
        for gauge in station.gauges:
            yield (
                station.name,
                tool_words(gauge.from_heel_mm, setup.units),
                tool_words(gauge.gauge_mm, setup.units),
                str(gauge.uses),
            )


def stock_rows(setup: Setup) -> Iterator[Row]:
    """Yield a row for each kind of steel that is loaded."""
    for line in sorted(setup.stock, key=_section):
        yield _stock(line)


def _section(line: StockUse) -> tuple[str, str, float]:
    return line.section, line.grade, line.length_mm


def _stock(line: StockUse) -> Row:
    length = length_words(line.length_mm, line.units)
    return line.section, line.grade, length, str(line.count), ", ".join(line.heats)


def stamp_rows(setup: Setup) -> Iterator[Row]:
    """Yield a row for each text that is stamped."""
    for stamp in setup.stamps.stamps if setup.stamps is not None else ():
        height = tool_words(stamp.height_mm, setup.units)
        yield stamp.mark, stamp.text, height, str(stamp.count)


def stamp_words(setup: Setup) -> tuple[str, ...]:
    """Return sentences on the stamp set."""
    stamps = setup.stamps
    if stamps is None:
        return ()
    heights = ", ".join(tool_words(mm, setup.units) for mm in stamps.heights_mm)
    said = [f"Letters {' '.join(stamps.letters)} of {heights} on the {stamps.side} side"]
    if stamps.missing:
        said.append(f"Not in the stamp set: {' '.join(stamps.missing)}")
    return tuple(said)


def first_rows(setup: Setup) -> Iterator[Row]:
    """Yield a row for each thing to measure, the mark before it on the first of them."""
    for first in setup.first_pieces:
        for number, (what, sizes) in enumerate(measure_rows(first)):
            of = _of(first) if number == 0 else (first.mark, *("",) * 5)
            yield (*of, what, sizes, "")


def measure_rows(first: FirstPiece) -> Iterator[tuple[str, str]]:
    """Yield what is measured on a first piece, and its nominal sizes."""
    for measure in first.measures:
        leg = f"{measure.leg}: " if measure.leg else ""
        yield leg + measure.what, ", ".join(_nominal(mm, first) for mm in measure.sizes_mm)


def _of(first: FirstPiece) -> Row:
    return (
        *(first.mark, first.order, first.revision, first.section),
        *(str(first.quantity), f"{first.lead_end} end"),
    )


def _nominal(mm: float, first: FirstPiece) -> str:
    return size_words(mm, first.units) if mm < 1000.0 else length_words(mm, first.units)  # noqa: PLR2004
