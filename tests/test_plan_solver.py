"""Cutting stock against optima from outside: published instances and an exact solver."""

import json
import random
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.bars.cutting_stock import (
    Choice,
    Item,
    Problem,
    Stock,
    cost_of,
    made_by,
    short_of,
    weight_of,
)
from translator.bars.solve import Effort, solve

# Published instances; each names its source. "from memory" stands where the optimum does.
PUBLISHED = json.loads(
    (Path(__file__).parent / "data" / "cutting_stock_examples.json").read_text("utf-8")
)
BAR = 1_000_000_000


def problem(stocks, lengths, demand):
    """Return a problem of plain pieces; stocks are (capacity, cost, count or None)."""
    dearest = max(cost for _, cost, _ in stocks)
    return Problem(
        stocks=tuple(Stock(capacity=a, cost=c, count=n) for a, c, n in stocks),
        items=tuple(Item(demand=n, penalty=4 * dearest) for n in demand),
        choices=tuple(Choice(weight=w, items=(i,)) for i, w in enumerate(lengths)),
    )


def check(own, found):
    """Hold a solution against its problem, by sums of its own."""
    used = dict.fromkeys(range(len(own.stocks)), 0)
    made = [0] * len(own.items)
    cost = 0
    for pattern, times in found.patterns:
        stock = own.stocks[pattern.stock]
        taken = sum(own.choices[c].weight * n for c, n in pattern.picks)
        assert taken <= stock.capacity
        assert all(pattern.lay in own.choices[c].lays for c, _ in pattern.picks)
        used[pattern.stock] += times
        cost += stock.cost * times
        for choice, n in pattern.picks:
            for item in own.choices[choice].items:
                made[item] += n * times
    for index, stock in enumerate(own.stocks):
        assert stock.count is None or used[index] <= stock.count
    for item, n, missing in zip(own.items, made, found.short, strict=True):
        assert n + missing >= item.demand
    assert cost == found.cost
    assert found.bound <= found.cost


@pytest.mark.parametrize("name", PUBLISHED)
def test_published_instances_are_solved_to_their_optimum(name):
    case = PUBLISHED[name]
    own = problem([(case["stock"], BAR, None)], case["lengths"], case["demand"])
    found = solve(own)
    check(own, found)
    optimum = case["published_optimum"] or round(case["int_opt"])
    assert found.cost == optimum * BAR, case["source"]
    assert found.bound == found.cost
    assert found.method == "optimal"
    assert not any(found.short)


@pytest.mark.parametrize("name", PUBLISHED)
def test_bound_of_a_published_instance_is_never_above_its_optimum(name):
    """Column generation stopped at any round still proves a bound (Farley)."""
    case = PUBLISHED[name]
    own = problem([(case["stock"], BAR, None)], case["lengths"], case["demand"])
    optimum = case["published_optimum"] or round(case["int_opt"])
    for rounds in (1, 2, 3, 5):
        found = solve(own, Effort(rounds=rounds))
        check(own, found)
        assert found.bound <= optimum * BAR <= found.cost


@pytest.mark.parametrize("name", PUBLISHED)
@pytest.mark.parametrize("kerf", [1, 3])
def test_kerf_makes_stock_and_pieces_longer_by_itself(name, kerf):
    """The usual reduction: n pieces and n - 1 cuts fit a bar just when (piece + kerf) fit n times.

    Held against bars cut one by one: the plan's bars, laid out with a cut between every two
    pieces and none at the ends, must not be longer than the stock.
    """
    case = PUBLISHED[name]
    stock = (case["stock"] + kerf, BAR, None)
    own = problem([stock], [length + kerf for length in case["lengths"]], case["demand"])
    found = solve(own)
    check(own, found)
    for pattern, _ in found.patterns:
        pieces = sum(n for _, n in pattern.picks)
        steel = sum(case["lengths"][c] * n for c, n in pattern.picks)
        assert steel + (pieces - 1) * kerf <= case["stock"]
    assert found.cost >= (case["published_optimum"] or round(case["int_opt"])) * BAR


def exact(stocks, pieces):
    """Return the least cost by trying every set of pieces for the next bar; None if none fits.

    Independent of the planner: no patterns, no bounds, no solver.
    """
    count = len(pieces)
    whole = (1 << count) - 1
    size = [sum(pieces[i] for i in range(count) if mask >> i & 1) for mask in range(whole + 1)]

    @cache
    def least(mask, free):
        if not mask:
            return 0
        first = mask & -mask
        rest = mask ^ first
        best = None
        part = rest
        while True:
            taken = part | first
            for index, (room, cost, _) in enumerate(stocks):
                if size[taken] > room or free[index] == 0:
                    continue
                left = (*free[:index], free[index] - 1, *free[index + 1 :])
                after = least(mask ^ taken, left if free[index] > 0 else free)
                if after is not None and (best is None or cost + after < best):
                    best = cost + after
            if not part:
                return best
            part = (part - 1) & rest

    return least(whole, tuple(-1 if n is None else n for *_, n in stocks))


def small(seed):
    """Return a small random instance: stocks, lengths, demand."""
    chance = random.Random(seed)
    kinds = chance.randint(1, 4)
    lengths = chance.sample(range(12, 70), kinds)
    demand = [chance.randint(1, 2) for _ in lengths]
    stocks = [(room, room * 10**6, None) for room in chance.sample((70, 85, 100, 130), 2)]
    for _ in range(chance.randint(0, 2)):
        room = chance.randint(20, 60)
        stocks.append((room, room * 10**5, chance.randint(1, 2)))
    return stocks, lengths, demand


def test_two_hundred_small_instances_are_solved_as_an_exact_solver_does():
    for seed in range(200):
        stocks, lengths, demand = small(seed)
        own = problem(stocks, lengths, demand)
        found = solve(own)
        check(own, found)
        pieces = [w for w, n in zip(lengths, demand, strict=True) for _ in range(n)]
        optimum = exact(stocks, pieces)
        assert not any(found.short), seed
        assert found.bound <= optimum <= found.cost, seed
        assert found.cost == optimum, seed


def test_an_exact_instance_knows_a_gap():
    """Three pieces of 6 need two bars of 12, not the bar and a half that their sum asks for."""
    assert exact([(12, 1, None)], [6, 6, 6]) == 2
    found = solve(problem([(12, BAR, None)], [6], [3]))
    assert (found.cost, found.bound) == (2 * BAR, 2 * BAR)


def test_pieces_that_find_no_bar_are_told():
    own = problem([(100, BAR, 2)], [60, 30], [4, 1])
    found = solve(own)
    check(own, found)
    assert found.short == (2, 0)
    assert found.bound == found.cost == 2 * BAR
    longer = solve(problem([(100, BAR, None)], [120, 30], [1, 1]))
    assert longer.short == (1, 0)


def test_what_presses_gets_the_bars_that_there_are():
    own = problem([(100, BAR, 1)], [60, 70], [1, 1])
    urgent = Problem(
        stocks=own.stocks,
        items=(own.items[0], Item(demand=1, penalty=9 * BAR)),
        choices=own.choices,
    )
    assert solve(urgent).short == (1, 0)


def test_pieces_that_need_the_bar_another_way_share_none():
    """Two lays: pieces of 40 in the one and of 40 in the other never lie on one bar of 100."""
    own = Problem(
        stocks=(Stock(capacity=100, cost=BAR),),
        items=(Item(demand=1, penalty=4 * BAR),) * 2,
        choices=(
            Choice(weight=40, items=(0,), lays=frozenset({0})),
            Choice(weight=40, items=(1,), lays=frozenset({1})),
        ),
    )
    assert solve(own).cost == 2 * BAR


def test_a_family_saves_its_charge_on_all_pieces_but_the_first():
    """Four pieces of 30 that save 5 where they meet: 30 + 3 * 25 = 105 on one bar of 105."""
    for room, bars in ((105, 1), (104, 2)):
        own = Problem(
            stocks=(Stock(capacity=room, cost=BAR),),
            items=(Item(demand=4, penalty=4 * BAR),),
            choices=(Choice(weight=25, items=(0,), family=0),),
            charges=(5,),
        )
        found = solve(own)
        assert found.cost == bars * BAR
        assert all(weight_of(own, p.picks) <= room for p, _ in found.patterns)


def test_hundreds_of_marks_are_planned_to_within_a_hundredth():
    """200 marks, 5,000 pieces, six stock lengths; the time is the benchmark's, not the test's."""
    chance = random.Random(7)
    lengths = [(chance.randrange(300, 5000) + 16) * 10**6 for _ in range(60)]
    demand = [chance.randint(1, 50) for _ in lengths]
    stocks = [
        ((mm - 223) * 10**6, mm * 10**7, None if mm in (6000, 12000) else 40)
        for mm in (6000, 7500, 9000, 10500, 12000, 13500)
    ]
    own = problem(stocks, lengths, demand)
    found = solve(own)
    check(own, found)
    assert not any(found.short)
    assert found.gap < 0.01


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 90), st.integers(1, 6)), min_size=1, max_size=7),
    st.lists(
        st.tuples(st.integers(10, 120), st.integers(1, 50), st.none() | st.integers(0, 4)),
        min_size=1,
        max_size=4,
    ),
)
def test_any_plan_is_valid(pieces, stocks):
    own = problem(
        [(room, cost * 10**6, count) for room, cost, count in stocks],
        [weight for weight, _ in pieces],
        [count for _, count in pieces],
    )
    found = solve(own, Effort(branches=4, tries=2, steps=500))
    check(own, found)
    again = solve(own, Effort(branches=4, tries=2, steps=500))
    assert found == again


def test_sums_of_patterns_agree():
    own = problem([(100, BAR, None)], [30, 20], [2, 3])
    found = solve(own)
    plan = dict(found.patterns)
    assert short_of(own, plan) == [0, 0]
    assert cost_of(own, plan) == BAR * sum(plan.values())
    pattern = next(iter(plan))
    made = made_by(own, pattern.picks)
    assert sum(made.values()) == sum(n for _, n in pattern.picks)
