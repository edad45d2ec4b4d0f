"""Make a plan better by planning a few of its bars anew, again and again.

Few bars hold few pieces, and for these the best plan can be found outright.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from msgspec.structs import replace

from translator.bars.closing import Room, within_gap
from translator.bars.column_generation import Prices, generate
from translator.bars.cutting_stock import (
    Pattern,
    Problem,
    cost_of,
    made_by,
    rounded_up,
)
from translator.bars.dive import remaining
from translator.bars.every_way import every_way
from translator.bars.master import Master

_ROOM: Final = Room(steps=60_000, patterns=1500)
_STEPS: Final = 2000
_ROUNDS: Final = 150


def improved(
    problem: Problem, plan: dict[Pattern, int], prices: Prices, bound: int, tries: int
) -> dict[Pattern, int]:
    """Return the plan, or a cheaper one.

    Args:
        problem: what is wanted; without families or pairs.
        plan: one that leaves nothing out that it need not.
        prices: of the whole problem; they tell which bars pay least.
        bound: where to stop.
        tries: how many times a few bars are planned anew.
    """
    best = dict(plan)
    for number in range(tries):
        if cost_of(problem, best) <= bound:
            break
        few = _few(problem, best, prices, number)
        anew = _anew(problem, best, few)
        if anew is not None:
            best = anew
    return best


def _few(
    problem: Problem, plan: dict[Pattern, int], prices: Prices, number: int
) -> dict[Pattern, int]:
    """Choose bars: those that pay least for themselves, and some from all over the plan."""
    bars = [p for p, n in sorted(plan.items()) for _ in range(n)]
    bars.sort(key=lambda p: (_loss(problem, p, prices), p), reverse=True)
    size = min(len(bars), 5 + number % 4)
    chosen = bars[: 1 + number % 3]
    rest = bars[1 + number % 3 :]
    for place in _scattered(len(rest), number):
        if len(chosen) >= size:
            break
        chosen.append(rest[place])
    few: dict[Pattern, int] = {}
    for pattern in chosen:
        few[pattern] = few.get(pattern, 0) + 1
    return few


def _scattered(count: int, number: int) -> Iterator[int]:
    """Yield all places below a count in a scattered, fixed order."""
    state = number * 2_654_435_761 + 12_345
    places = list(range(count))
    while places:
        state = (state * 6_364_136_223_846_793_005 + 1_442_695_040_888_963_407) % 2**64
        yield places.pop((state >> 33) % len(places))


def _loss(problem: Problem, pattern: Pattern, prices: Prices) -> Fraction:
    worth = Fraction(0)
    worth += sum(n * prices.values[item] for item, n in made_by(problem, pattern.picks).items())
    return problem.stocks[pattern.stock].cost - worth


def _anew(
    problem: Problem, plan: dict[Pattern, int], few: dict[Pattern, int]
) -> dict[Pattern, int] | None:
    """Plan the pieces of a few bars anew; return the whole plan when that is cheaper."""
    kept = {p: n - few.get(p, 0) for p, n in plan.items() if n > few.get(p, 0)}
    part = remaining(problem, kept)
    cost = cost_of(problem, few)
    part, back = _only_wanted(part)
    master = Master(part)
    for pattern in sorted(few):
        own = _translated(pattern, {choice: i for i, choice in enumerate(back)})
        if own is not None:
            master.add(own)
    generated = generate(part, master, _ROUNDS)
    if rounded_up(generated.prices.bound, part.step) >= cost:
        return None
    listed = within_gap(part, generated.prices, cost, _ROOM)
    if listed is None:
        return None
    anew = every_way(part, listed, generated.prices, cost, _STEPS).plan
    if anew is None:
        return None
    out = dict(kept)
    for pattern, times in anew.items():
        own = Pattern(pattern.stock, pattern.lay, tuple((back[c], n) for c, n in pattern.picks))
        out[own] = out.get(own, 0) + times
    return out


def _translated(pattern: Pattern, to: dict[int, int]) -> Pattern | None:
    if any(choice not in to for choice, _ in pattern.picks):
        return None
    return Pattern(pattern.stock, pattern.lay, tuple((to[c], n) for c, n in pattern.picks))


def _only_wanted(problem: Problem) -> tuple[Problem, tuple[int, ...]]:
    """Leave out what nothing is wanted of; return also which choice each one was."""
    wanted = [i for i, item in enumerate(problem.items) if item.demand]
    number = {item: place for place, item in enumerate(wanted)}
    kept = [i for i, c in enumerate(problem.choices) if all(item in number for item in c.items)]
    choices = tuple(
        replace(problem.choices[i], items=tuple(number[item] for item in problem.choices[i].items))
        for i in kept
    )
    items = tuple(problem.items[i] for i in wanted)
    return replace(problem, items=items, choices=choices), tuple(kept)
