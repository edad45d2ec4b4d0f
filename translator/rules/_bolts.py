"""Which bolt a hole or slot is for: stated, or taken from its size."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final, TypeGuard

from msgspec import Struct

from translator.lengths.parse import Unit
from translator.lengths.spell import inch_text, mm_text
from translator.model import Hole, LegName, Slot
from translator.model.features import Feature
from translator.rules._practice import Code, Practice
from translator.tables.bolts import Bolt, read_bolt
from translator.tables.fitting_bolts import FittingBolt, fitting_bolt
from translator.tables.holes import ROUNDING_MM, HoleSizes, hole_sizes

_FITS: Final = ("standard", "customary", "other edition", "oversize")


_SLACK_MM: Final = 1.0
"""Rather too many are looked at closely than one too few."""


class MeantBolt(Struct, frozen=True, kw_only=True):
    """The bolt of a hole or slot, and the code that speaks of it.

    Attributes:
        bolt: name and diameter.
        is_stated: the part says it; else it is taken from the hole's size.
        code: "us" or "eu".
        edition: of that code.
        words: how the bolt was come by, for a message.
    """

    bolt: Bolt
    is_stated: bool
    code: Code
    edition: str
    words: str

    @property
    def name(self) -> str:
        """The bolt's name: ``3/4``, ``M20``."""
        return self.bolt.name

    @property
    def diameter(self) -> Fraction:
        """The bolt's diameter in millimetres, exactly."""
        return _diameter(self.bolt.name)

    @property
    def sizes(self) -> HoleSizes | None:
        """The holes that the code gives the bolt, None if it has none."""
        return hole_sizes(self.name, self.code, self.edition)


class Bolted(Struct, frozen=True, kw_only=True):
    """A hole or slot for a bolt that lies whole on a sound leg, ``centre_mm`` from its outline."""

    leg: LegName
    feature: Hole | Slot
    bolt: MeantBolt
    centre_mm: float


def meant_bolts(
    features: Iterable[tuple[LegName, Feature]], units: Unit, practice: Practice
) -> Mapping[str, MeantBolt]:
    """Return the bolt of each hole and slot that one goes through, by the feature's id.

    Rods and vents have none, nor has a hole that is only marked. A tapped or blind hole has
    one only where it is stated.
    """
    codes = tuple((code, practice.edition(code)) for code in practice.codes_for(units))
    found = {}
    for _, feature in features:
        if not isinstance(feature, Hole | Slot) or not is_made(feature):
            continue
        if feature.purpose is not None:
            continue
        if feature.bolt is not None:
            bolt = _stated(feature.bolt, practice)
        else:
            bolt = _taken(feature, units, codes) if may_take_bolt(feature) else None
        if bolt is not None:
            found[feature.id] = bolt
    return found


def beside_each_other(bolted: Sequence[Bolted], reach_mm: float) -> tuple[Bolted, ...]:
    """Return the bolts of an angle that have one of the other leg within a reach along it."""
    reach = reach_mm + _SLACK_MM
    places = {leg: sorted(b.feature.x_mm for b in bolted if b.leg == leg) for leg in ("a", "b")}
    if not all(places.values()):
        return ()
    found = []
    for one in bolted:
        others, x = places["b" if one.leg == "a" else "a"], one.feature.x_mm
        if bisect_left(others, x - reach) < bisect_right(others, x + reach):
            found.append(one)
    return tuple(found)


def is_made(feature: Feature) -> bool:
    """Tell whether a hole or slot is made on the line, not only marked; so is all else."""
    return not (isinstance(feature, Hole | Slot) and feature.process == "mark-only")


def may_take_bolt(feature: Feature) -> TypeGuard[Hole | Slot]:
    """Tell whether a feature is a plain through hole or slot that nobody gave a purpose."""
    return (
        isinstance(feature, Hole | Slot)
        and is_made(feature)
        and feature.purpose is None
        and feature.depth_mm is None
        and not is_tapped(feature)
    )


def is_tapped(feature: Feature) -> bool:
    """Tell whether a hole has a thread, so that its size is that of the bolt."""
    return isinstance(feature, Hole) and feature.thread is not None


def hole_size(mm: float, units: Unit) -> str:
    """Return a hole's size as people name it: the fraction of an inch, else millimetres."""
    inches = inch_text(mm)
    if inches is None or (units == "mm" and mm == round(mm, 1)):
        return f"{mm_text(mm)} mm"
    return f"{inches} in."


def least_width(feature: Hole | Slot) -> float:
    """Return the diameter of a hole or the width of a slot, what a bolt goes through."""
    return feature.diameter_mm if isinstance(feature, Hole) else feature.width_mm


def _stated(name: str, practice: Practice) -> MeantBolt | None:
    codes = practice.codes_for(read_bolt(name).unit)
    return _stated_under(name, codes[0], practice.edition(codes[0])) if codes else None


@lru_cache(maxsize=256)
def _stated_under(name: str, code: Code, edition: str) -> MeantBolt:
    bolt = read_bolt(name)
    words = f"bolt {bolt.name} as stated"
    return MeantBolt(bolt=bolt, is_stated=True, code=code, edition=edition, words=words)


def _taken(
    feature: Hole | Slot, units: Unit, codes: tuple[tuple[Code, str], ...]
) -> MeantBolt | None:
    return _taken_from(least_width(feature), feature.kind, units, codes)


@lru_cache(maxsize=4096)
def _taken_from(
    width_mm: float, kind: str, units: Unit, codes: tuple[tuple[Code, str], ...]
) -> MeantBolt | None:
    found = _fitting(width_mm, codes)
    if found is None:
        return None
    code, fitting = found
    article = "an" if fitting.bolt.startswith("M") else "a"
    size = hole_size(width_mm, units)
    return MeantBolt(
        bolt=read_bolt(fitting.bolt),
        is_stated=False,
        code=code,
        edition=dict(codes)[code],
        words=f"taken as {article} {fitting.bolt} bolt from the {size} {kind}",
    )


@lru_cache(maxsize=256)
def _diameter(bolt: str) -> Fraction:
    return read_bolt(bolt).diameter.exact_mm


def _fitting(
    width_mm: float, codes: tuple[tuple[Code, str], ...]
) -> tuple[Code, FittingBolt] | None:
    """Return the bolt of the hole that is nearest and most usual under any of the codes."""
    best: tuple[tuple[bool, int, int], Code, FittingBolt] | None = None
    for order, (code, edition) in enumerate(codes):
        fitting = fitting_bolt(width_mm, code, edition)
        if fitting is None:
            continue
        is_rough = abs(fitting.hole.mm - width_mm) > ROUNDING_MM
        key = (is_rough, _FITS.index(fitting.fit), order)
        if best is None or key < best[0]:
            best = (key, code, fitting)
    return None if best is None else best[1:]
