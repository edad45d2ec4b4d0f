"""From pieces and stock lines of one section and grade to whole numbers."""

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.bars.cutting_stock import Choice, Item, Problem, Stock, nanometres
from translator.bars.demand import Demand
from translator.bars.lies import Able, BarLay, Lie, is_square, stretch
from translator.bars.plan_model import PlanOptions, StockLine
from translator.bars.program_cuts import Plane

REMNANT_SHARE: Final = 10
"""Used first, a remnant costs this part of new steel; so it is taken where it fits well."""

MOST_PAIRS: Final = 200
"""Pairs that may share a mitre cut in one group; more make no plan better by much."""

_PRICE: Final = 1_000_000
_MOST_PRIORITY: Final = 1000


class Member(Struct, frozen=True, kw_only=True):
    """One mark of a group, and how its pieces may lie."""

    demand: Demand
    able: Able

    @property
    def lies(self) -> tuple[Lie, ...]:
        """Ways its pieces may lie."""
        return self.able.lies


class Laid(Struct, frozen=True, kw_only=True):
    """How the pieces of a choice lie: the index of the lie of each."""

    lies: tuple[int, ...]


class Numbers(Struct, frozen=True, kw_only=True):
    """A group as a problem, and what its numbers stand for.

    Attributes:
        problem: the numbers.
        members: of each item, the marks whose pieces are alike, in the order they are taken.
        laid: of each choice, how its pieces lie; one entry for each lay of the bar.
        lays: of each lay, heel and side of the longer leg.
        lines: of each stock, the lines of the list that it stands for.
        is_priced: whether costs are prices.
    """

    problem: Problem
    members: tuple[tuple[Member, ...], ...]
    laid: tuple[Mapping[int, Laid], ...]
    lays: tuple[BarLay, ...]
    lines: tuple[tuple[StockLine, ...], ...]
    is_priced: bool


def numbers_of(
    members: Sequence[Member], lines: Sequence[StockLine], options: PlanOptions
) -> Numbers:
    """Return the problem of a group.

    A piece takes its length and one cut of its steeper end; pieces stand on the bar steepest
    first, so that the cut of the steeper of two neighbours always fits between them.
    """
    lays = tuple(sorted({lie.lay for m in members for lie in m.lies}, key=str))
    alike: dict[object, list[Member]] = {}
    for member in members:
        alike.setdefault(_key(member, options, lays), []).append(member)
    groups = sorted(alike.values(), key=lambda g: (-weight(g[0], options), g[0].demand.part.mark))
    stocks, of_stock, is_priced = _stocks(lines, options)
    dearest = max((stock.cost for stock in stocks), default=1)
    items = tuple(
        Item(
            demand=sum(m.demand.count for m in group),
            penalty=dearest * (4 + max(_pressing(m) for m in group)),
        )
        for group in groups
    )
    choices, laid, charges = _choices(groups, options, lays)
    problem = Problem(stocks=stocks, items=items, choices=choices, charges=charges)
    ordered = tuple(
        tuple(sorted(g, key=lambda m: (-m.demand.progress.priority, _name(m)))) for g in groups
    )
    return Numbers(
        problem=problem,
        members=ordered,
        laid=laid,
        lays=lays,
        lines=of_stock,
        is_priced=is_priced,
    )


def plain(numbers: Numbers) -> Numbers:
    """Return the same problem without shared cuts, to hold a plan with them against."""
    singles = [i for i, c in enumerate(numbers.problem.choices) if len(c.items) == 1]
    charges = numbers.problem.charges
    choices = tuple(
        replace(
            c, weight=c.weight + (charges[c.family] if c.family is not None else 0), family=None
        )
        for c in (numbers.problem.choices[i] for i in singles)
    )
    problem = replace(numbers.problem, choices=choices, charges=())
    return replace(numbers, problem=problem, laid=tuple(numbers.laid[i] for i in singles))


def weight(member: Member, options: PlanOptions) -> int:
    """Return the length of bar that a piece takes with its cut, nanometres."""
    lie = member.lies[0]
    over = nanometres(lie.lead_over) + nanometres(lie.trail_over)
    return nanometres(member.demand.part.length_mm) + over + cut_loss(options, lie.stretch)


def cut_loss(options: PlanOptions, stretched: float) -> int:
    """Return what a cut takes along the bar, nanometres."""
    return nanometres(round(options.loss_mm * stretched, 6))


def capacity(length_mm: float, options: PlanOptions) -> int:
    """Return the length of a bar that pieces may take, each with a cut behind it.

    Where the machine feeds the bar to its very end, the last cut may run out there.
    """
    usable = nanometres(length_mm) - nanometres(options.front_trim_mm) - nanometres(options.tail_mm)
    return usable if options.tail_mm else usable + nanometres(options.loss_mm)


def _name(member: Member) -> tuple[str, str, str]:
    part = member.demand.part
    return part.order or "", part.mark, member.demand.source


def _pressing(member: Member) -> int:
    return min(member.demand.progress.priority, _MOST_PRIORITY)


def _key(member: Member, options: PlanOptions, lays: Sequence[BarLay]) -> object:
    """Return what pieces must have in common to be cut in each other's place."""
    own = frozenset(lays.index(lie.lay) for lie in member.lies)
    key: tuple[object, ...] = (weight(member, options), own)
    if options.shared_mitres:
        key += (tuple((lie.placement, _plane(lie.lead), _plane(lie.trail)) for lie in member.lies),)
    return key


def _plane(plane: Plane) -> tuple[tuple[str, float], ...]:
    return tuple(sorted((side, round(angle, 7)) for side, angle in plane.angles.items()))


def _stocks(
    lines: Sequence[StockLine], options: PlanOptions
) -> tuple[tuple[Stock, ...], tuple[tuple[StockLine, ...], ...], bool]:
    """Put lines together that are alike to a plan: by length, kind and price."""
    new = [line for line in lines if not line.is_remnant]
    is_priced = bool(new) and all(line.price is not None for line in new)
    rate = min(
        (Fraction(line.price or 0.0) / nanometres(line.length_mm) for line in new), default=0
    )
    alike: dict[tuple[int, int, bool], list[StockLine]] = {}
    for line in lines:
        if is_priced:
            price = (
                rate * nanometres(line.length_mm) if line.price is None else Fraction(line.price)
            )
            cost = round(price * _PRICE) * REMNANT_SHARE
        else:
            cost = nanometres(line.length_mm) * REMNANT_SHARE
        if line.is_remnant and options.remnants == "first":
            cost //= REMNANT_SHARE
        key = (capacity(line.length_mm, options), max(1, cost), line.is_remnant)
        alike.setdefault(key, []).append(line)
    ordered = sorted(alike.items(), key=lambda item: (not item[0][2], -item[0][0], item[0][1]))
    stocks = tuple(
        Stock(capacity=room, cost=cost, count=_count(own)) for (room, cost, _), own in ordered
    )
    return stocks, tuple(tuple(own) for _, own in ordered), is_priced


def cost_shown(cost: int, *, is_priced: bool) -> float:
    """Return a cost as people read it: a price, or millimetres of bar."""
    unit = _PRICE * REMNANT_SHARE
    return cost / unit if is_priced else round(cost / unit, 6)


def _count(lines: Iterable[StockLine]) -> int | None:
    counts = [line.count for line in lines]
    return None if None in counts else sum(count or 0 for count in counts)


def _choices(
    groups: Sequence[Sequence[Member]],
    options: PlanOptions,
    lays: Sequence[BarLay],
) -> tuple[tuple[Choice, ...], tuple[Mapping[int, Laid], ...], tuple[int, ...]]:
    choices: list[Choice] = []
    laid: list[Mapping[int, Laid]] = []
    families: dict[object, int] = {}
    charges: list[int] = []
    for item, group in enumerate(groups):
        lies, own = group[0].lies, weight(group[0], options)
        first = {lays.index(lie.lay): i for i, lie in reversed(list(enumerate(lies)))}
        family, saved = None, 0
        if options.shared_mitres and len(first) == 1 and _nests(lies[0], lies[0]):
            saved = _saved(group[0], lies[0], group[0], lies[0])
            if 2 * saved <= own:
                key = (lies[0].lay, _plane(lies[0].lead))
                family = families.setdefault(key, len(families))
                if family == len(charges):
                    charges.append(saved)
                saved = charges[family]
            else:
                saved = 0
        choices.append(
            Choice(weight=own - saved, items=(item,), lays=frozenset(first), family=family)
        )
        laid.append({lay: Laid(lies=(i,)) for lay, i in first.items()})
    if options.shared_mitres:
        free = [i for i, choice in enumerate(choices) if choice.family is None]
        for choice, how in _pairs(groups, free, options, lays):
            choices.append(choice)
            laid.append(how)
    return tuple(choices), tuple(laid), tuple(charges)


def _pairs(
    groups: Sequence[Sequence[Member]],
    free: Sequence[int],
    options: PlanOptions,
    lays: Sequence[BarLay],
) -> list[tuple[Choice, Mapping[int, Laid]]]:
    """Return pairs of pieces whose ends meet in one mitre cut, those that save most first."""
    found: list[tuple[int, Choice, Mapping[int, Laid]]] = []
    for one in free:
        for two in free:
            for i, ahead in enumerate(groups[one][0].lies):
                for j, behind in enumerate(groups[two][0].lies):
                    if ahead.lay != behind.lay or not _nests(ahead, behind):
                        continue
                    saved = _saved(groups[one][0], ahead, groups[two][0], behind)
                    both = weight(groups[one][0], options), weight(groups[two][0], options)
                    if 2 * saved > min(both):
                        continue
                    lay = lays.index(ahead.lay)
                    choice = Choice(
                        weight=sum(both) - saved, items=(one, two), lays=frozenset({lay})
                    )
                    found.append((saved, choice, {lay: Laid(lies=(i, j))}))
    found.sort(key=lambda each: (-each[0], each[1].items))
    kept: dict[tuple[int, ...], tuple[Choice, Mapping[int, Laid]]] = {}
    for _, choice, how in found:
        kept.setdefault(tuple(sorted(choice.items)), (choice, how))
    return list(kept.values())[:MOST_PAIRS]


def _nests(ahead: Lie, behind: Lie) -> bool:
    """Tell whether one mitre cut can make the trailing end of one piece and the next one's lead."""
    return not is_square(ahead.trail) and _plane(ahead.trail) == _plane(behind.lead)


def _saved(one: Member, ahead: Lie, _two: Member, behind: Lie) -> int:
    """Return how much shorter two pieces lie when they share a cut, nanometres."""
    back = one.demand.part.length_mm - ahead.trail.heel
    return nanometres(round(back, 6)) + nanometres(round(behind.lead.heel, 6))


def steepness(lie: Lie) -> float:
    """Return how much more than a square cut the steeper end of a piece takes."""
    return max(stretch(lie.lead), stretch(lie.trail))
