"""Tables of a bar list: what is on no bar, totals, loading order, marks, stock that is left."""

from collections.abc import Iterator, Sequence

from translator.bars.plan_model import Plan, PlannedBar
from translator.bars.row_table import rows_table
from translator.bars.wording import Units, decimal, length_words, many, total_words
from translator.model import Flat
from translator.tables.designations import parse_section


def units_of(plan: Plan, number: int) -> Units:
    """Return the units of a group."""
    return next((group.units for group in plan.groups if group.number == number), "mm")


def common_units(plan: Plan) -> Units:
    """Return the units that most bars are told in."""
    inches = sum(group.bars for group in plan.groups if group.units == "inch")
    return "inch" if 2 * inches > sum(group.bars for group in plan.groups) else "mm"


def unplaced(plan: Plan) -> Iterator[str]:
    """Yield the pieces that are on no bar, and why."""
    if not plan.unplaced:
        return
    missing = sum(line.count for line in plan.unplaced)
    yield f'<p class="warn">{many(missing, "piece")} on no bar: see below.</p>\n'
    yield rows_table(
        "Pieces that are on no bar",
        ("mark", "order", "pieces", "why", "file"),
        [
            (line.mark, line.order or "", str(line.count), line.why, line.source)
            for line in plan.unplaced
        ],
        numeric=(2,),
    )


def totals(plan: Plan) -> Iterator[str]:
    """Yield what goes in and what comes out, by section and grade."""
    rows = []
    for group in plan.groups:
        own = [bar for bar in plan.bars if bar.group == group.number]
        if not own:
            continue
        kept = sum(bar.drop.length_mm for bar in own if bar.drop.kind == "remnant")
        stock = sum(bar.length_mm for bar in own)
        pieces = sum(bar.used_mm for bar in own)
        share = f"{100.0 * pieces / stock:.1f}" if stock else ""
        rows.append(
            (
                group.section,
                group.grade or "",
                str(len(own)),
                str(sum(len(bar.pieces) for bar in own)),
                total_words(stock, group.units),
                total_words(pieces, group.units),
                total_words(kept, group.units),
                total_words(stock - pieces - kept, group.units),
                share,
                decimal(stock / 1000.0 * group.mass_per_metre_kg, 1),
            )
        )
    if rows:
        yield rows_table(
            "Totals",
            (
                *("section", "grade", "bars", "pieces", "stock", "in pieces", "remnants"),
                *("lost", "in pieces %", "stock kg"),
            ),
            rows,
            numeric=range(2, 10),
        )


def numbers_text(numbers: Sequence[int]) -> str:
    """Return numbers with what follows on each other drawn together: "1-3, 7"."""
    spans: list[list[int]] = []
    for number in sorted(numbers):
        if spans and number == spans[-1][1] + 1:
            spans[-1][1] = number
        else:
            spans.append([number, number])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)


def loading(plan: Plan) -> Iterator[str]:
    """Yield the bars in the order of loading, what follows alike from one line of stock as one."""
    lines: list[list[PlannedBar]] = []
    for bar in sorted(plan.bars, key=lambda bar: bar.number):
        before = lines[-1][-1] if lines else None
        if before is not None and _lot(before) == _lot(bar):
            lines[-1].append(bar)
        else:
            lines.append([bar])
    rows = [_loading_row(plan, bars) for bars in lines]
    if rows:
        yield "<h2>Loading order</h2>\n"
        yield rows_table(
            "Load the bars from the top down; write down what each measures",
            (
                *("bars", "count", "section", "grade", "stock", "length", "measured"),
                *("lay it in", "heat", "place", "pieces", "drop"),
            ),
            rows,
            numeric=(1, 5, 10),
            blank=(6,),
        )


def _lot(bar: PlannedBar) -> tuple[object, ...]:
    same = (bar.group, bar.pattern, bar.stock, bar.heat, bar.location, bar.length_mm)
    lay = (bar.heel, bar.long_leg, bar.lead_end)
    return (*same, *lay, bar.measured_mm, bar.drop.kind, bar.drop.length_mm)


def lay_words(bar: PlannedBar, units: Units) -> str:
    """Return how a bar is laid into the machine, seen looking the way it travels."""
    is_flat = isinstance(parse_section(bar.section, units).section, Flat)
    said = (
        "" if is_flat else f"heel {bar.heel}",
        f"long leg {bar.long_leg}" if bar.long_leg else "",
        "marked end last" if bar.lead_end == "unmarked" else "",
    )
    return ", ".join(word for word in said if word)


def _loading_row(plan: Plan, bars: Sequence[PlannedBar]) -> tuple[str, ...]:
    one, units = bars[0], units_of(plan, bars[0].group)
    measured = "" if one.measured_mm is None else length_words(one.measured_mm, units)
    kind = " (remnant)" if one.is_remnant else " (to buy)" if one.is_bought else ""
    return (
        numbers_text([bar.number for bar in bars]),
        str(len(bars)),
        one.section,
        one.grade or "",
        f"{one.stock}{kind}",
        length_words(one.length_mm, units),
        measured,
        lay_words(one, units),
        one.heat or "",
        one.location or "",
        str(len(one.pieces)),
        drop_words(bars, units),
    )


def drop_words(bars: Sequence[PlannedBar], units: Units) -> str:
    """Return what is left of bars that are cut alike."""
    drop = bars[0].drop
    if drop.kind == "none":
        return "none"
    labels = [bar.drop.label for bar in bars if bar.drop.label]
    named = f" {labels[0]}" if labels else ""
    named += f" to {labels[-1]}" if len(set(labels)) > 1 else ""
    return f"{drop.kind}{named} {length_words(drop.length_mm, units)}"


def marks(plan: Plan) -> Iterator[str]:
    """Yield what is asked of each mark."""
    if not plan.marks:
        return
    units = {group.number: group.units for group in plan.groups}
    sections = {group.number: group.section for group in plan.groups}
    yield "<h2>Marks</h2>\n"
    yield rows_table(
        "What is asked of each mark, and what of it is on bars",
        (
            *("mark", "order", "rev.", "section", "length", "asked", "done", "recut", "on bars"),
            *("by hand afterwards",),
        ),
        [
            (
                mark.mark,
                mark.order or "",
                mark.revision or "",
                sections.get(mark.group or 0, ""),
                length_words(mark.length_mm, units.get(mark.group or 0, "mm")),
                *map(str, (mark.quantity, mark.done, mark.recut, mark.planned)),
                ", ".join(mark.second_work),
            )
            for mark in plan.marks
        ],
        numeric=range(4, 9),
    )


def left(plan: Plan) -> Iterator[str]:
    """Yield the stock that is left."""
    if not plan.left:
        return
    units = common_units(plan)
    yield "<h2>Stock that is left</h2>\n"
    yield rows_table(
        "Bars and remnants left when the plan has been cut",
        ("id", "section", "grade", "length", "count", "kind", "heat", "place"),
        [
            (
                line.id,
                line.section,
                line.grade or "",
                length_words(line.length_mm, units),
                "any" if line.count is None else str(line.count),
                "remnant" if line.is_remnant else "bar",
                line.heat or "",
                line.location or "",
            )
            for line in plan.left
        ],
        numeric=(3, 4),
    )
