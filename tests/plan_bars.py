"""Cutting plans that the tests of lists share; all of them invented, none of them good."""

from translator.bars.plan_model import (
    Drop,
    Plan,
    PlannedBar,
    PlannedCut,
    PlannedGroup,
    PlannedMark,
    PlannedPiece,
    PlanOptions,
    StockLine,
    Unplaced,
)
from translator.machines.handling import Placement

AHEAD = Placement(lead_end="start", leg_a="left")
LOSS, TRIM, TAIL, LEAST = 16.0, 10.0, 203.2, 400.0


def bar(number=1, pieces=(("C12", 292.1),), length=6096.0, **more):
    """Return a bar that holds pieces in the order given, square cuts between them."""
    at, cuts, laid = TRIM, [], []
    first = {"ahead": None, "behind": 1} if pieces else {}
    cuts.append(
        PlannedCut(kind="slug", serves="behind", heel_mm=TRIM - LOSS, loss_mm=LOSS, **first)
        if pieces
        else PlannedCut(kind="slug", serves="trim", heel_mm=TRIM - LOSS, loss_mm=LOSS)
    )
    for index, (mark, size) in enumerate(pieces, start=1):
        laid.append(
            PlannedPiece(
                number=index,
                order="TQ-7",
                mark=mark,
                revision="B",
                index=index,
                count=len(pieces),
                length_mm=size,
                lead_mm=round(at, 6),
                placement=AHEAD,
                source="clips.bmk",
            )
        )
        at += size
        behind = index + 1 if index < len(pieces) else None
        cuts.append(
            PlannedCut(
                kind="slug",
                serves="both" if behind else "ahead",
                ahead=index,
                behind=behind,
                heel_mm=round(at, 6),
                loss_mm=LOSS,
            )
        )
        at += LOSS
    left = round(length - at, 6)
    kind = "remnant" if left >= LEAST + TAIL else "scrap"
    given = {
        "number": number,
        "group": 1,
        "pattern": 1,
        "stock": "S1",
        "length_mm": length,
        "section": "L4x3-1/2x3/8",
        "grade": "A36",
        "front_trim_mm": TRIM,
        "pieces": tuple(laid),
        "cuts": tuple(cuts),
        "tail_mm": TAIL,
        "drop": Drop(length_mm=left, kind=kind, label=f"R{number}" if kind == "remnant" else ""),
        **more,
    }
    return PlannedBar(**given)


def group(number=1, bars=(), **more):
    own = [b for b in bars if b.group == number]
    stock = sum(b.length_mm for b in own)
    given = {
        "number": number,
        "section": own[0].section if own else "L4x3-1/2x3/8",
        "grade": own[0].grade if own else "A36",
        "units": "inch",
        "mass_per_metre_kg": 13.5,
        "pieces": sum(len(b.pieces) for b in own),
        "bars": len(own),
        "patterns": len({b.pattern for b in own}),
        "stock_mm": stock,
        "pieces_mm": sum(b.used_mm for b in own),
        "cost": stock,
        "lower_bound": stock,
        "gap_percent": 0.0,
        "method": "optimal",
        **more,
    }
    return PlannedGroup(**given)


def plan(*bars, **more):
    """Return a plan of bars."""
    bars = bars or (bar(),)
    numbers = dict.fromkeys(b.group for b in bars)
    marks = {}
    for each in bars:
        for piece in each.pieces:
            key = (piece.order, piece.mark)
            marks.setdefault(key, [piece, each.group, 0])[2] += 1
    given = {
        "machine": "Line 1",
        "options": PlanOptions(
            cut="slug",
            loss_mm=LOSS,
            front_trim_mm=TRIM,
            tail_mm=TAIL,
            least_remnant_mm=LEAST,
        ),
        "groups": tuple(group(number, bars) for number in numbers),
        "marks": tuple(
            PlannedMark(
                order=order,
                mark=mark,
                revision="B",
                source=piece.source,
                group=own,
                length_mm=piece.length_mm,
                quantity=count,
                planned=count,
            )
            for (order, mark), (piece, own, count) in marks.items()
        ),
        "bars": tuple(bars),
        **more,
    }
    return Plan(**given)


def unplaced(mark="B7", count=2, why="the far end is cut at 15 deg, the shear only cuts square"):
    return Unplaced(
        order="TQ-7", mark=mark, source="bracing.bmk", count=count, kind="machine", why=why
    )


def stock_line(name="S1", length=6096.0, **more):
    return StockLine(id=name, section="L4x3-1/2x3/8", grade="A36", length_mm=length, **more)
