"""The sizes of a section as typed, before it is settled whether they are inches."""

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import Struct

from translator.errors import TranslatorError
from translator.lengths.characters import shown
from translator.lengths.grid import on_grid
from translator.lengths.parse import (
    FINEST_DENOMINATOR,
    INCH,
    Length,
    LengthError,
    Unit,
    read_length,
)
from translator.tables.profiles import Profile

_PLAIN_NUMBER: Final = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_DECIMALS: Final = re.compile(r"\.([0-9]+)")
_BINARY_PARTS: Final = frozenset(str(2**n) for n in range(1, FINEST_DENOMINATOR.bit_length()))
_FLAT_SIZES: Final = 2
_ANGLE_SIZES: Final = 3
_EQUAL_LEG_RATIO: Final = Fraction(35, 100)
"""Above it the second of two sizes is a leg, not a thickness (rolled angles stay under 0.26)."""

_FEWEST_INCH_DECIMALS: Final = 2


class SectionNameError(TranslatorError, ValueError):
    """A text is no section name; the message is a sentence for the person who typed it."""


class Size(Struct, frozen=True, kw_only=True):
    """One size as typed.

    Attributes:
        length: as read with a bare number taken as inches.
        is_fraction: a fraction was typed, so it can't be millimetres.
        decimals: digits behind the point.
    """

    length: Length
    is_fraction: bool
    decimals: int

    @property
    def says(self) -> Unit | None:
        """The unit that the size itself says, None for a bare number."""
        if self.length.bare is None or self.is_fraction:
            return self.length.unit
        return None

    def mm(self, unit: Unit) -> Fraction:
        """Return millimetres, a bare number taken in a unit."""
        if self.length.bare is None:
            return self.length.mm
        return self.length.bare * (INCH if unit == "inch" else 1)

    def may_mean(self, exact_mm: float, unit: Unit) -> bool:
        """Tell whether the typed number is a table's size, rounded to the digits typed.

        Fractions and inches with fewer than two decimals are never taken as rounded.
        """
        typed, exact = self.mm(unit), Fraction(str(exact_mm))
        told = self.says or unit
        fewest = _FEWEST_INCH_DECIMALS if told == "inch" else 0
        if self.is_fraction or self.decimals < fewest:
            return typed == exact
        half = Fraction(1, 2 * 10**self.decimals) * (INCH if told == "inch" else 1)
        # The metric names of US sizes round a half up (63.5 is 64); long decimals are also cut.
        return typed - half <= exact and (
            exact < typed + half or (exact == typed + half and self.decimals > 1)
        )


def read_sizes(text: str) -> tuple[tuple[Size, ...], bool]:
    """Read the sizes behind the word, in plain small letters.

    Returns:
        The sizes as typed, and whether they were parted by slashes, which only metric names do.

    Raises:
        LengthError: with a sentence, for a size that is no length.
    """
    if "x" not in text and "/" in text:
        parts = [part.strip() for part in text.split("/")]
        if all(_PLAIN_NUMBER.fullmatch(part) for part in parts) and not _is_one_fraction(parts):
            return tuple(_size(part) for part in parts), True
    return tuple(_size(part.strip()) for part in text.split("x")), False


def _is_one_fraction(parts: Sequence[str]) -> bool:
    """Tell whether numbers parted by slashes are a single size, as in ``PL3/8``."""
    if len(parts) != 2 or parts[1] not in _BINARY_PARTS:  # noqa: PLR2004
        return False
    return parts[0].isdigit() and int(parts[0]) < int(parts[1])


def _size(text: str) -> Size:
    length = read_length(text, "inch")
    if not length.mm:
        raise LengthError(f"{shown(text)} is not a size.")
    found = _DECIMALS.search(text)
    return Size(length=length, is_fraction="/" in text, decimals=len(found[1]) if found else 0)


def told_unit(text: str, sizes: Sequence[Size], *, is_metric: bool) -> Unit | None:
    """Return the unit that the name itself tells, None if every size is bare.

    Args:
        text: the name, for the sentence of a fault.
        sizes: as typed.
        is_metric: the word or the slashes say millimetres.

    Raises:
        SectionNameError: when the name contradicts itself.
    """
    said = {size.says for size in sizes} - {None}
    if len(said) > 1:
        raise SectionNameError(f"{shown(text)} mixes inches and millimetres.")
    if is_metric and "inch" in said:
        raise SectionNameError(f"{shown(text)} is a metric name with a size in inches.")
    if is_metric or "mm" in said:
        return "mm"
    return "inch" if said else None


def arranged(
    text: str, profile: Profile, typed: tuple[Size, ...], told: Unit | None
) -> tuple[tuple[Size, ...], str]:
    """Return leg a, leg b, thickness, or width, thickness; and a note, "" if none is due.

    Raises:
        SectionNameError: for too few or too many sizes, or a thickness that can't be one.
    """
    compared = [on_grid(size.mm(told or "mm")) for size in typed]
    count = "one size only" if len(typed) == 1 else f"{len(typed)} sizes"
    if profile.kind == "flat":
        if len(typed) != _FLAT_SIZES:
            raise SectionNameError(
                f"{shown(text)} has {count}: a flat has a width and a thickness"
                " (the length is given by itself)."
            )
        if compared[0] < compared[1]:
            return typed[::-1], f"{shown(text)}: the smaller size is read as the thickness."
        return typed, ""
    if len(typed) == _FLAT_SIZES and profile.legs != "unequal":
        if compared[1] > _EQUAL_LEG_RATIO * compared[0]:
            raise SectionNameError(f"{shown(text)} has two legs but no thickness.")
        return (typed[0], *typed), f"{shown(text)} is read as two equal legs and a thickness."
    if len(typed) != _ANGLE_SIZES:
        raise SectionNameError(
            f"{shown(text)} has {count}: an angle has two legs and a thickness"
            " (the length is given by itself)."
        )
    if compared[2] >= min(compared[:2]):
        raise SectionNameError(
            f"{shown(text)} has a last size, the thickness, that is not less than its legs."
        )
    return typed, ""
