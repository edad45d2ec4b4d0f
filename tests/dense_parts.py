"""Crowded parts for the drawing tests: many holes, close together, on many lines.

Seeded, so that every run looks at the same ones. Nobody would make them; a drawing must bear
them all the same.
"""

import random

from translator.geometry.outline import leg_outline
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    Clip,
    Cope,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Notch,
    Part,
    Rounding,
    Slot,
    leg_names,
    on_grid,
)

INCH = 25.4


def dense_parts(count, seed=7):
    """Yield so many parts whose outlines have no faults."""
    chance = random.Random(seed)
    made = 0
    while made < count:
        part = _part(chance, made)
        if all(not leg_outline(part, leg).faults for leg in leg_names(part)):
            yield part
            made += 1


def _part(chance, number):
    grid = chance.choice([1.0, 0.5, 0.1, INCH / 16, INCH / 8, INCH / 64])
    length = _on(
        grid, chance.choice([120.0, 300.0, 700.0, 1800.0, 4000.0]) * chance.uniform(0.8, 1.2)
    )
    width = _on(grid, chance.choice([40.0, 75.0, 100.0, 150.0]))
    other = _on(grid, chance.choice([40.0, 90.0]))
    is_flat = chance.random() < 0.25
    features = tuple(_features(chance, grid, length, width, "f" if is_flat else "a"))
    more = {
        "mark": f"D{number}",
        "length_mm": length,
        "units": "inch" if INCH % grid < 1e-9 and grid not in (1.0, 0.5, 0.1) else "mm",
        "title": "crowded",
    }
    if is_flat:
        section = Flat(width_mm=width, thickness_mm=10.0)
        legs = FlatLegs(
            face=Leg(features=features, trims=_trims(chance, ("lower", "upper"), length))
        )
        return Part(section=section, legs=legs, ends=FlatEnds(), **more)
    section = Angle(leg_a_mm=width, leg_b_mm=other, thickness_mm=8.0, root_radius_mm=8.0)
    b = tuple(_features(chance, grid, length, other, "b"))
    legs = AngleLegs(
        a=Leg(features=features, trims=_trims(chance, ("toe",), length)), b=Leg(features=b)
    )
    ends = AngleEnds(far=AngleEnd(leg_a_deg=chance.choice([0.0, 15.0, -20.0])))
    return Part(section=section, legs=legs, ends=ends, **more)


def _features(chance, grid, length, width, name):
    """Lines of holes: random places, equal spaces, staggered lines, a few alone."""
    number = 0
    for _ in range(chance.randint(1, 5)):
        y = _on(grid, chance.uniform(0.3, 0.8) * width)
        for x in _places(chance, grid, length):
            number += 1
            size = {"x_mm": x, "y_mm": y, "id": f"{name}{number}"}
            d = _on(grid, chance.uniform(4.0, 0.2 * width))
            if chance.random() < 0.2:
                angle = chance.choice([0.0, 90.0, 30.0])
                yield Slot(width_mm=d, length_mm=on_grid(1.5 * d), angle_deg=angle, **size)
            else:
                yield Hole(diameter_mm=d, **size)


def _places(chance, grid, length):
    low, high = 0.1 * length, 0.9 * length
    if chance.random() < 0.4:
        pitch = _on(grid, chance.uniform(0.01, 0.1) * length)
        first = _on(grid, chance.uniform(low, high / 2.0))
        count = min(chance.randint(3, 30), int((high - first) / pitch))
        return [on_grid(first + i * pitch) for i in range(count)]
    places = {_on(grid, chance.uniform(low, high)) for _ in range(chance.randint(1, 40))}
    if chance.random() < 0.5:  # a cluster
        middle = chance.uniform(low, high)
        places |= {_on(grid, middle + i * chance.uniform(0.5, 4.0)) for i in range(12)}
    return sorted(x for x in places if 0.0 < x < length)


def _trims(chance, sides, length):
    trims = []
    for end in ("start", "far"):
        side = chance.choice(sides)
        kind = chance.choice(["none", "cope", "clip", "rounding"])
        if kind == "cope":
            trims.append(Cope(end=end, side=side, along_mm=8.0, across_mm=7.0, radius_mm=2.0))
        elif kind == "clip":
            trims.append(Clip(end=end, side=side, along_mm=9.0, across_mm=6.0))
        elif kind == "rounding":
            trims.append(Rounding(end=end, side=side, radius_mm=6.0))
    if chance.random() < 0.3:
        x = on_grid(round(length / 2.0))
        trims.append(Notch(side=sides[-1], x_from_mm=x, x_to_mm=x + 12.0, across_mm=5.0))
    return tuple(trims)


def _on(grid, value):
    return on_grid(max(1, round(value / grid)) * grid)
