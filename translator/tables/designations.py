"""Section names as the trade types them, read into sections and written back.

Bare sizes take the unit of the file unless the name itself tells: a fraction or an inch mark
makes it inches; a millimetre mark, slashes between the sizes or a metric word (RSA, EA, UA)
makes it millimetres. A name that only exists in the other unit is read in that one, with a
note; a name that may be meant in either is refused with a question.
"""

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from msgspec import Struct

from translator.lengths.characters import plain, shown
from translator.lengths.grid import on_grid
from translator.lengths.parse import LengthError, Unit
from translator.lengths.spell import inch_text, mm_text
from translator.model.sections import Angle, Flat
from translator.tables.angles import listed
from translator.tables.profiles import OTHERS, PROFILES, Profile, is_several, split_word
from translator.tables.sizes import SectionNameError, Size, arranged, read_sizes, told_unit
from translator.tables.weighing import listed_as, settled_unit

_LONGEST_TEXT: Final = 120
_KNOWN: Final = "angles (L4x3-1/2x3/8, L90x90x10) and flats (FB100x10, PL3/8x4)"
_UNITS: Final[tuple[Unit, Unit]] = ("inch", "mm")


class SectionReading(Struct, frozen=True, kw_only=True):
    """What a section name was read as.

    Attributes:
        section: with the canonical designation and, if listed, the table's radii; None if
            the name could not be read.
        notes: sentences on what was taken for granted.
        fault: why there is no section, a sentence; None if there is one.
    """

    section: Angle | Flat | None
    notes: tuple[str, ...] = ()
    fault: str | None = None


def parse_section(text: str, units: Unit) -> SectionReading:
    """Read a section name.

    Args:
        text: ``L4x3-1/2x3/8``, ``angle 4 x 3-1/2 x 3/8``, ``RSA 90x90x10``, ``L80*8``,
            ``L100/75/8``, ``L102x89x9.5``, ``FB 100x10``, ``PL3/8x4`` and so on. Leg a is
            the first size. Of a flat's two sizes the smaller is the thickness.
        units: what bare sizes are in.

    Returns:
        A section with notes, or a fault; never an exception.
    """
    if len(text) > _LONGEST_TEXT:
        return SectionReading(
            section=None,
            fault=f"{shown(text)} is no section: it has more than {_LONGEST_TEXT} signs.",
        )
    return _parse(text, units)


def designation_of(section: Angle | Flat) -> str:
    """Return the canonical name of a section, made from its sizes and nothing else.

    In inches if every size is a whole number of 1/64 in., else in millimetres:
    ``L4x3-1/2x3/8``, ``L90x90x10``, ``FB100x10``, ``FB4x3/8``; leg a first. The sizes get marks
    (``FB12"x1"``) only where the bare name would not read back the same under both units.
    """
    return _name("L" if isinstance(section, Angle) else "FB", _sizes_of(section))


@lru_cache(maxsize=512)
def _name(word: str, sizes: tuple[float, ...]) -> str:
    inches = [text for text in map(inch_text, sizes) if text is not None]
    is_inch = len(inches) == len(sizes)
    spelled = inches if is_inch else [mm_text(size) for size in sizes]
    bare = word + "x".join(spelled)
    if all(_reads_as(bare, units, sizes) for units in _UNITS):
        return bare
    mark = '"' if is_inch else "mm"
    return word + "x".join(size + mark for size in spelled)


@lru_cache(maxsize=512)
def _parse(text: str, units: Unit) -> SectionReading:
    try:
        section, notes = _read(text, units)
    except SectionNameError as fault:
        return SectionReading(section=None, fault=str(fault))
    if isinstance(section, Angle) and listed(section) is None:
        notes.append(
            f"{shown(text)} is not a listed size (EN 10056-1 or US angles):"
            " its radii are taken as 0 and its mass is computed from its sizes."
        )
    named = section.model_copy(update={"designation": designation_of(section)})
    return SectionReading(section=named, notes=tuple(notes))


def _sizes_of(section: Angle | Flat) -> tuple[float, ...]:
    if isinstance(section, Angle):
        return section.leg_a_mm, section.leg_b_mm, section.thickness_mm
    return section.width_mm, section.thickness_mm


def _reads_as(name: str, units: Unit, sizes: Sequence[float]) -> bool:
    try:
        section, _ = _read(name, units)
    except SectionNameError:
        return False
    return _sizes_of(section) == tuple(sizes)


def _read(text: str, units: Unit) -> tuple[Angle | Flat, list[str]]:
    profile, rest = _profile(text)
    try:
        typed, has_slashes = read_sizes(rest)
    except LengthError as fault:
        raise SectionNameError(f"{shown(text)} is no section: {fault}") from fault
    told = told_unit(text, typed, is_metric=profile.is_metric or has_slashes)
    sizes, order_note = arranged(text, profile, typed, told)
    unit, unit_note = settled_unit(text, profile.kind, sizes, units, told)
    notes = [note for note in (order_note, unit_note) if note]
    on_the_grid = [on_grid(size.mm(unit)) for size in sizes]
    if min(on_the_grid) <= 0:
        raise SectionNameError(f"{shown(text)} has a size of nothing.")
    if profile.kind == "flat":
        width, thickness = on_the_grid
        return Flat(width_mm=width, thickness_mm=thickness), notes
    leg_a, leg_b, _ = on_the_grid
    legs = "equal" if leg_a == leg_b else "unequal"
    if profile.legs not in ("", legs):
        raise SectionNameError(f"{shown(text)} says {profile.legs} legs, but its legs are {legs}.")
    return _angle(text, sizes, unit, notes), notes


def _angle(text: str, sizes: Sequence[Size], unit: Unit, notes: list[str]) -> Angle:
    leg_a, leg_b, thickness = (on_grid(size.mm(unit)) for size in sizes)
    row = listed_as(sizes, unit)
    if row is None:
        return Angle(leg_a_mm=leg_a, leg_b_mm=leg_b, thickness_mm=thickness)
    section = row.section(short_leg_first=leg_a < leg_b)
    if _sizes_of(section) != (leg_a, leg_b, thickness):
        notes.append(f"{shown(text)} is read as {section.designation}, whose sizes round to it.")
    return section


def _profile(text: str) -> tuple[Profile, str]:
    spelled = plain(text).lower()
    if not spelled:
        raise SectionNameError("A section is missing here.")
    if is_several(spelled):
        raise SectionNameError(
            f"{shown(text)} is several angles: each angle is a piece of its own here,"
            " so give the section of one."
        )
    word, rest = split_word(spelled)
    profile = PROFILES.get(word)
    if profile is not None and rest:
        return profile, rest
    if profile is not None:
        raise SectionNameError(f"{shown(text)} has no sizes.")
    if word in OTHERS:
        raise SectionNameError(
            f"{shown(text)} is {OTHERS[word]}: only angles and flats are made here."
        )
    if not word:
        raise SectionNameError(f"{shown(text)} does not say what it is: write {_KNOWN}.")
    raise SectionNameError(f"{shown(text)} is no section known here: write {_KNOWN}.")
