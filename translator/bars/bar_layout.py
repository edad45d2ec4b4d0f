"""From patterns to bars: which piece lies where, the cuts between, what is left."""

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from translator.bars.cutting_stock import NM_PER_MM, Pattern, nanometres
from translator.bars.lies import BarLay, Lie, is_square, stretch
from translator.bars.plan_model import PlannedCut, PlannedPiece, PlanOptions, StockLine
from translator.bars.plan_problem import Member, Numbers, cut_loss
from translator.bars.program_cuts import Plane


class Piece(Struct, frozen=True, kw_only=True):
    """A piece before it has its place: its mark, and how it lies.

    ``is_joined``: its leading end is made by the same mitre cut as the end ahead of it.
    """

    member: Member
    lie: Lie
    is_joined: bool = False


class Laid(Struct, frozen=True, kw_only=True):
    """A bar with its pieces in their places.

    Attributes:
        line: the line of stock it is.
        lay: heel and side of the longer leg.
        pieces: in order from the lead end.
        leads: bar coordinate of each one's leading end, nanometres.
        cuts: in order from the lead end.
        end: bar coordinate behind which the whole section is left, nanometres.
        is_square: whether the drop's end there is square.
    """

    line: StockLine
    lay: BarLay
    pieces: tuple[Piece, ...]
    leads: tuple[int, ...]
    cuts: tuple[PlannedCut, ...]
    end: int
    is_square: bool


def bars_of(
    numbers: Numbers, patterns: Sequence[tuple[Pattern, int]], options: PlanOptions
) -> tuple[tuple[Laid, ...], tuple[tuple[Member, int], ...]]:
    """Lay out the bars of some patterns.

    Returns:
        The bars; and how many pieces of each mark found no bar.
    """
    waiting = [[m for m in own for _ in range(m.demand.count)] for own in numbers.members]
    for queue in waiting:
        queue.reverse()
    free = [
        [line for line in sorted(own, key=_on_hand) for _ in range(_many(line))]
        for own in numbers.lines
    ]
    endless = [next((li for li in own if li.count is None), None) for own in numbers.lines]
    bars = []
    for pattern, times in sorted(patterns, key=lambda p: _order(numbers, p)):
        for _ in range(times):
            blocks = _blocks(numbers, pattern, waiting)
            if not blocks:
                continue
            line = free[pattern.stock].pop(0) if free[pattern.stock] else endless[pattern.stock]
            if line is None:
                raise AssertionError("a pattern is cut on more bars than there are")
            bars.append(_laid(line, numbers.lays[pattern.lay], blocks, options))
    left: dict[int, tuple[Member, int]] = {}
    for queue in waiting:
        for member in queue:
            known = left.get(id(member), (member, 0))
            left[id(member)] = (member, known[1] + 1)
    return tuple(bars), tuple(left.values())


def _many(line: StockLine) -> int:
    return line.count or 0


def _on_hand(line: StockLine) -> bool:
    return line.count is None


def _order(numbers: Numbers, item: tuple[Pattern, int]) -> tuple[object, ...]:
    """Remnants first, then longer bars, then the pattern that is cut most often."""
    pattern, times = item
    line = numbers.lines[pattern.stock][0]
    return (not line.is_remnant, -line.length_mm, -times, pattern)


def _blocks(
    numbers: Numbers, pattern: Pattern, waiting: list[list[Member]]
) -> tuple[tuple[Piece, ...], ...]:
    """Take the pieces of a pattern; those that share cuts stay together.

    Steepest first, then longest: so each cut between two pieces fits into what the one ahead
    was allowed for it.
    """
    chains: dict[int, list[Piece]] = {}
    blocks: list[tuple[Piece, ...]] = []
    for index, times in pattern.picks:
        choice = numbers.problem.choices[index]
        lies = numbers.laid[index][pattern.lay].lies
        for _ in range(times):
            taken = [
                Piece(member=member, lie=member.lies[lie])
                for item, lie in zip(choice.items, lies, strict=True)
                if (member := _next(waiting[item])) is not None
            ]
            if not taken:
                continue
            if choice.family is not None:
                chains.setdefault(choice.family, []).extend(taken)
            else:
                blocks.append(_joined(taken))
    blocks += [
        _joined(sorted(chain, key=lambda p: -p.member.demand.part.length_mm))
        for _, chain in sorted(chains.items())
    ]
    return tuple(sorted(blocks, key=_block_order))


def _next(queue: list[Member]) -> Member | None:
    return queue.pop() if queue else None


def _joined(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    first, *rest = pieces
    return (first, *(Piece(member=p.member, lie=p.lie, is_joined=True) for p in rest))


def _block_order(block: tuple[Piece, ...]) -> tuple[object, ...]:
    part = block[0].member.demand.part
    length = sum(piece.member.demand.part.length_mm for piece in block)
    steep = max(round(piece.lie.stretch, 9) for piece in block)
    return (-steep, -length, part.order or "", part.mark)


def _laid(
    line: StockLine,
    lay: BarLay,
    blocks: Sequence[tuple[Piece, ...]],
    options: PlanOptions,
) -> Laid:
    pieces = tuple(piece for block in blocks for piece in block)
    leads: list[int] = []
    cuts: list[PlannedCut] = []
    at = nanometres(options.front_trim_mm) + nanometres(pieces[0].lie.lead_over)
    for number, piece in enumerate(pieces, start=1):
        if number == 1:
            cuts += _front(piece, at, options)
        else:
            at, between = _between(pieces[number - 2], leads[-1], piece, number, options)
            cuts += between
        leads.append(at)
    last = pieces[-1]
    end = at + _length(last)
    cuts.append(_cut(last.lie.trail, _heel(at, last.lie.trail), options, ahead=len(pieces)))
    loss = cut_loss(options, stretch(last.lie.trail))
    return Laid(
        line=line,
        lay=lay,
        pieces=pieces,
        leads=tuple(leads),
        cuts=tuple(cuts),
        end=end + nanometres(last.lie.trail_over) + loss,
        is_square=is_square(last.lie.trail),
    )


def _front(piece: Piece, at: int, options: PlanOptions) -> Iterator[PlannedCut]:
    """Yield the cut that makes the first end, unless the bar's own end is it."""
    plane = piece.lie.lead
    if is_square(plane) and at == 0:
        return
    heel = _heel(at, plane) - cut_loss(options, stretch(plane))
    yield _cut(plane, heel, options, behind=1)


def _between(
    ahead: Piece, ahead_lead: int, behind: Piece, number: int, options: PlanOptions
) -> tuple[int, list[PlannedCut]]:
    """Return where a piece begins behind another, and the cuts between them."""
    trail, lead = ahead.lie.trail, behind.lie.lead
    heel = _heel(ahead_lead, trail)
    loss = cut_loss(options, stretch(trail))
    both_square = is_square(trail) and is_square(lead)
    if both_square or behind.is_joined:
        cut = _cut(trail, heel, options, ahead=number - 1, behind=number)
        at = heel + loss - nanometres(round(lead.heel, 6))
        return at, [cut]
    own = cut_loss(options, stretch(lead))
    at = ahead_lead + _length(ahead) + max(loss, own)
    at += nanometres(ahead.lie.trail_over) + nanometres(behind.lie.lead_over)
    first = _cut(trail, heel, options, ahead=number - 1)
    second = _cut(lead, _heel(at, lead) - own, options, behind=number)
    return at, [first, second]


def _cut(
    plane: Plane,
    heel: int,
    options: PlanOptions,
    *,
    ahead: int | None = None,
    behind: int | None = None,
) -> PlannedCut:
    kind: Literal["saw", "slug", "single"] = "single" if options.cut == "none" else options.cut
    serves: Literal["ahead", "behind", "both"] = "both"
    if ahead is None or behind is None:
        serves = "behind" if ahead is None else "ahead"
    return PlannedCut(
        kind=kind,
        serves=serves,
        ahead=ahead,
        behind=behind,
        heel_mm=heel / NM_PER_MM,
        loss_mm=cut_loss(options, stretch(plane)) / NM_PER_MM,
        left_deg=plane.angles.get("left", 0.0) + 0.0,
        right_deg=plane.angles.get("right", 0.0) + 0.0,
        is_shared_mitre=serves == "both" and not is_square(plane),
    )


def _heel(lead: int, plane: Plane) -> int:
    """Return where a plane of a piece that begins at ``lead`` meets the heel line, nanometres."""
    return lead + nanometres(round(plane.heel, 6))


def _length(piece: Piece) -> int:
    return nanometres(piece.member.demand.part.length_mm)


def planned_pieces(bar: Laid, numbered: Sequence[tuple[int, int]]) -> tuple[PlannedPiece, ...]:
    """Return the pieces of a bar for the plan.

    Args:
        bar: the bar.
        numbered: of each piece, which one of how many of its mark it is.
    """
    return tuple(
        PlannedPiece(
            number=number,
            order=piece.member.demand.part.order,
            mark=piece.member.demand.part.mark,
            revision=piece.member.demand.part.revision,
            index=index,
            count=count,
            length_mm=piece.member.demand.part.length_mm,
            lead_mm=lead / NM_PER_MM,
            placement=piece.lie.placement,
            source=piece.member.demand.source,
            phase=piece.member.demand.part.phase,
            lot=piece.member.demand.part.lot,
            priority=piece.member.demand.progress.priority,
        )
        for number, (piece, lead, (index, count)) in enumerate(
            zip(bar.pieces, bar.leads, numbered, strict=True), start=1
        )
    )
