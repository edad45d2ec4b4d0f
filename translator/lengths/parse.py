"""Read a length as people spell it into an exact fraction of millimetres."""

import re
from fractions import Fraction
from typing import Final, Literal

from msgspec import Struct

from translator.errors import TranslatorError
from translator.lengths.characters import (
    BLANKS,
    FOOT_MARKS,
    FRACTIONS,
    HYPHENS,
    INCH_MARKS,
    SLASHES,
    plain,
    shown,
)

Unit = Literal["mm", "inch"]
"""The unit that a bare number takes."""

INCH: Final = Fraction(254, 10)
"""Millimetres in an inch, exact by definition since 1959."""

INCHES_PER_FOOT: Final = 12

LONGEST_MM: Final = 1_000_000
"""No length is longer than a kilometre; a longer one is a slip of the pen."""

FINEST_DENOMINATOR: Final = 64
"""The finest part of an inch on a rule; every 1/64 in. is exact in the part model."""

_LONGEST_TEXT: Final = 60
_MOST_DIGITS: Final = 12


class LengthError(TranslatorError, ValueError):
    """A text is not one clear length; the message is a sentence for the person who typed it."""


class Length(Struct, frozen=True, kw_only=True):
    """A length and how it was spelled.

    Attributes:
        mm: exact value in millimetres.
        unit: the unit of the spelling: its own mark, else the unit a bare number takes.
        bare: the number itself if the text had no unit mark, so that it may also be a count
            or a ratio; None if the text says its unit.
    """

    mm: Fraction
    unit: Unit
    bare: Fraction | None


def _pattern() -> str:
    blank, hyphen, slash = f"[{BLANKS}]", f"[{HYPHENS}]", f"[{SLASHES}]"
    foot, inch, glyph = f"[{FOOT_MARKS}]", f"[{INCH_MARKS}]", f"[{''.join(FRACTIONS)}]"
    number = (
        f"(?:[0-9]+(?:{blank}+|{hyphen})[0-9]+{slash}[0-9]+"
        f"|[0-9]+(?:{blank}*|{hyphen}){glyph}"
        f"|[0-9]+{slash}[0-9]+|{glyph}"
        f"|[0-9]+{hyphen}[0-9]+"
        r"|[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
    )
    feet = rf"[0-9]+(?:\.[0-9]+)?(?:{foot}(?!{foot})|{blank}*(?:feet|foot|ft)(?![A-Za-z_]))"
    unit = rf"(?:{inch}|{foot}{{2}}|{blank}*(?:inches|inch|in|mm)(?![A-Za-z0-9_]))"
    return f"(?:{feet}(?:{blank}*{hyphen}?{blank}*{number}{unit}?)?|{number}{unit}?)"


LENGTH_PATTERN: Final = _pattern()
"""Regular expression of one unsigned length in running text, for a tokeniser.

It stays on one line and takes the longest spelling. It never takes a minus that has blanks
around it, except after a feet mark, where a dash always joins. Whatever it matches,
``read_length`` either reads or refuses with a sentence: ``3-1``, ``1/0``, ``9'-14"``.
"""

_LENGTH: Final = re.compile(
    r"""
    (?P<sign>-)?
    (?:(?P<feet>[0-9]+(?:\.[0-9]+)?)\ *(?:'|(?:feet|foot|ft)\.?)(?:\ *-?\ *(?=[0-9.]))?)?
    (?:
        (?:(?P<whole>[0-9]+)(?P<joint>\ *-\ *|\ +))?(?P<over>[0-9]+)/(?P<under>[0-9]+)
        | (?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)
    )?
    \ *(?P<unit>"|inches|inch|in\.?|mm)?
    """,
    re.VERBOSE,
)
_GLUED_MINUS: Final = re.compile(r"[0-9.]+ ?- ?[0-9.]+")
_OTHER_UNIT: Final = re.compile(r"[0-9./ -]+ ?(cm|m|metres?|meters?|yd|thou|mil)")


def parse_length(text: str, unit: Unit, *, signed: bool = False) -> Fraction:
    """Return a length in millimetres, exactly; see ``read_length``."""
    return read_length(text, unit, signed=signed).mm


def read_length(text: str, unit: Unit, *, signed: bool = False) -> Length:
    """Read one length in any of the trade's spellings.

    Args:
        text: ``11-1/2``, ``11 1/2``, ``11.5``, ``11½``, ``3/8``, ``1'-0 1/2"``, ``12'``,
            ``9 ft 4 in``, ``292.1mm``, ``3.5in`` and so on.
        unit: what a bare number takes. A bare fraction is inches; where the file's unit is
            millimetres it is refused, since nobody measures 1/2 mm.
        signed: whether a minus may lead; it then counts for the whole length.

    Raises:
        LengthError: with a sentence, for anything else.
    """
    spelled = plain(text).lower()
    if not spelled:
        raise LengthError("A length is missing here.")
    if len(text) > _LONGEST_TEXT:
        raise LengthError(f"{shown(text)} is no length: it has more than {_LONGEST_TEXT} signs.")
    found = _LENGTH.fullmatch(spelled)
    if found is None or not (found["feet"] or found["over"] or found["decimal"]):
        raise _not_a_length(text, spelled)
    if any(len(run) > _MOST_DIGITS for run in re.findall("[0-9]+", spelled)):
        raise LengthError(f"{shown(text)} has a number of more than {_MOST_DIGITS} digits.")
    if found["sign"] and not signed:
        raise LengthError(f"{shown(text)} is less than nothing: a minus has no place here.")
    length = _feet_and_inches(text, found) if found["feet"] else _one_number(text, found, unit)
    if length.mm > LONGEST_MM:
        raise LengthError(f"{shown(text)} is longer than a kilometre, the most a length may be.")
    if not found["sign"]:
        return length
    bare = None if length.bare is None else -length.bare
    return Length(mm=-length.mm, unit=length.unit, bare=bare)


def either_way(whole: str, fraction: str) -> LengthError:
    """Return the error that asks whether ``11 - 1/2`` is a length or a subtraction."""
    asked = f"{shown(whole)} - {shown(fraction)} could mean two things"
    try:
        decimal = float(Fraction(plain(fraction)))
    except (ValueError, ArithmeticError):
        return LengthError(f"{asked}: write the length without blanks around the dash.")
    joined = f"{plain(whole)}-{plain(fraction)}"
    return LengthError(
        f"{asked}: write {shown(joined)} for the one length,"
        f" or {shown(whole)} - {decimal:g} to subtract."
    )


def _one_number(text: str, found: re.Match[str], unit: Unit) -> Length:
    number = _number(text, found)
    mark = found["unit"]
    if found["over"] and mark == "mm":
        raise LengthError(f"{shown(text)}: parts of a millimetre are written as a decimal.")
    if found["over"] and mark is None and unit == "mm":
        raise LengthError(
            f"{shown(text)} is a fraction, but a bare number here is millimetres:"
            f' write {plain(text)}" for inches, or a decimal for millimetres.'
        )
    told: Unit = unit if mark is None else "mm" if mark == "mm" else "inch"
    mm = number if told == "mm" else number * INCH
    return Length(mm=mm, unit=told, bare=number if mark is None else None)


def _feet_and_inches(text: str, found: re.Match[str]) -> Length:
    feet = Fraction(found["feet"])
    has_inches = bool(found["over"] or found["decimal"])
    if found["unit"] == "mm":
        raise LengthError(f"{shown(text)} mixes feet with millimetres.")
    if found["unit"] and not has_inches:
        raise _not_a_length(text, "")
    inches = _number(text, found) if has_inches else Fraction(0)
    if has_inches and feet.denominator != 1:
        raise LengthError(f"{shown(text)} has a part of a foot and inches as well: write one.")
    if inches >= INCHES_PER_FOOT:
        raise LengthError(
            f"{shown(text)} has {float(inches):g} in. behind the feet:"
            f" {INCHES_PER_FOOT} in. or more make another foot."
        )
    return Length(mm=(feet * INCHES_PER_FOOT + inches) * INCH, unit="inch", bare=None)


def _number(text: str, found: re.Match[str]) -> Fraction:
    if found["decimal"]:
        return Fraction(found["decimal"])
    joint = found["joint"] or " "
    if "-" in joint and joint != "-":
        if found["feet"]:
            raise LengthError(f"{shown(text)} has blanks around its last dash: leave them out.")
        raise either_way(found["whole"], f"{found['over']}/{found['under']}")
    over, under = int(found["over"]), int(found["under"])
    if under == 0:
        raise LengthError(f"{shown(text)} divides by 0.")
    if under > FINEST_DENOMINATOR or under.bit_count() != 1:
        raise LengthError(
            f"{shown(text)} has parts of 1/{under}: an inch has halves, quarters,"
            f" 8ths, 16ths, 32nds and 64ths; write anything else as a decimal."
        )
    if over >= under:
        raise LengthError(
            f"{shown(text)} has the fraction {over}/{under}, which is"
            f" {'1' if over == under else 'more than 1'}: write the whole inches apart."
        )
    return int(found["whole"] or 0) + Fraction(over, under)


def _not_a_length(text: str, spelled: str) -> LengthError:
    value = shown(text)
    if _GLUED_MINUS.fullmatch(spelled):
        return LengthError(
            f"{value} is no length: a minus that subtracts has blanks on both sides,"
            " and a dash joins inches to a fraction only."
        )
    if "," in spelled:
        return LengthError(f"{value} is no length: a decimal is written with a point.")
    if _OTHER_UNIT.fullmatch(spelled):
        return LengthError(f"{value} has a unit not used here: write mm, in. or ft.")
    return LengthError(
        f"{value} is no length: write it like 11-1/2, 11.5, 1'-0 1/2\", 292.1mm or 3.5in."
    )
