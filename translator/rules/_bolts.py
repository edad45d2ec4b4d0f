"""Which bolt a hole or slot is for: stated, or taken from its size."""

from collections.abc import Iterable, Mapping
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
    """A hole or slot for a bolt that lies whole on a sound leg."""

    leg: LegName
    feature: Hole | Slot
    bolt: MeantBolt


def meant_bolts(
    features: Iterable[tuple[LegName, Feature]], units: Unit, practice: Practice
) -> Mapping[str, MeantBolt]:
    """Return the bolt of each hole and slot that one goes through, by the feature's id.

    Rods and vents have none, nor has a hole that is only marked. A tapped or blind hole has
    one only where it is stated.
    """
    found = {}
    for _, feature in features:
        bolt = _meant(feature, units, practice) if is_made(feature) else None
        if bolt is not None:
            found[feature.id] = bolt
    return found


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


def _meant(feature: Feature, units: Unit, practice: Practice) -> MeantBolt | None:
    if not isinstance(feature, Hole | Slot) or feature.purpose is not None:
        return None
    if feature.bolt is not None:
        bolt = read_bolt(feature.bolt)
        codes = practice.codes_for(bolt.unit)
        words = f"bolt {bolt.name} as stated"
        return _of(bolt, practice, codes[0], words, is_stated=True) if codes else None
    if not may_take_bolt(feature):
        return None
    width = least_width(feature)
    found = _fitting(width, tuple((c, practice.edition(c)) for c in practice.codes_for(units)))
    if found is None:
        return None
    code, fitting = found
    article = "an" if fitting.bolt.startswith("M") else "a"
    words = (
        f"taken as {article} {fitting.bolt} bolt from the {hole_size(width, units)} {feature.kind}"
    )
    return _of(read_bolt(fitting.bolt), practice, code, words, is_stated=False)


def _of(bolt: Bolt, practice: Practice, code: Code, words: str, *, is_stated: bool) -> MeantBolt:
    return MeantBolt(
        bolt=bolt, is_stated=is_stated, code=code, edition=practice.edition(code), words=words
    )


@lru_cache(maxsize=256)
def _diameter(bolt: str) -> Fraction:
    return read_bolt(bolt).diameter.exact_mm


@lru_cache(maxsize=4096)
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
