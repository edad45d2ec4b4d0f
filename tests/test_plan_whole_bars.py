"""What whole bars must cost at least, held against every way there is."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from translator.bars.cutting_stock import Choice, Item, Problem, Stock
from translator.bars.whole_bars import least_cost


def _problem(stocks, pieces):
    return Problem(
        stocks=tuple(
            Stock(capacity=length, cost=cost, count=count) for length, cost, count in stocks
        ),
        items=tuple(Item(demand=n, penalty=10**9) for _, n in pieces),
        choices=tuple(Choice(weight=w, items=(i,)) for i, (w, _) in enumerate(pieces)),
    )


def _every_way(stocks, pieces, bound):
    need = sum(weight * n for weight, n in pieces)
    most = 30
    ranges = [range((most if count is None else min(count, most)) + 1) for _, _, count in stocks]
    costs = [
        sum(n * cost for n, (_, cost, _) in zip(numbers, stocks, strict=True))
        for numbers in itertools.product(*ranges)
        if sum(n * length for n, (length, _, _) in zip(numbers, stocks, strict=True)) >= need
    ]
    return min((cost for cost in costs if cost >= bound), default=bound)


STOCKS = st.lists(
    st.tuples(st.integers(5, 40), st.integers(1, 40), st.one_of(st.none(), st.integers(0, 4))),
    min_size=1,
    max_size=3,
)
PIECES = st.lists(st.tuples(st.integers(1, 12), st.integers(1, 3)), min_size=1, max_size=4)


@settings(max_examples=200, deadline=None)
@given(STOCKS, PIECES, st.integers(0, 60))
def test_it_is_the_least_of_all_ways(stocks, pieces, bound):
    # Within 30 bars of each lies the least: 48 of length at most, bars of 5 at least, and a
    # cost of 60 reached with bars of 1 only beyond it.
    cheap = any(cost < 3 and count is None for _, cost, count in stocks)
    if cheap:
        bound = min(bound, 20)
    assert least_cost(_problem(stocks, pieces), bound) == _every_way(stocks, pieces, bound)


def test_a_bar_and_a_half_is_two_bars():
    problem = _problem([(40, 400, None), (9, 9, 1)], [(3, 15)])
    assert least_cost(problem, 418) == 800


def test_too_many_ways_leave_the_bound_alone(monkeypatch):
    monkeypatch.setattr("translator.bars.whole_bars.MOST_WAYS", 3)
    problem = _problem([(40, 400, None), (41, 410, None)], [(3, 150)])
    assert least_cost(problem, 401) == 401


@pytest.mark.parametrize("bound", [0, 7])
def test_bars_that_can_not_be_enough_leave_the_bound_alone(bound):
    assert least_cost(_problem([(10, 5, 2)], [(4, 10)]), bound) == bound
