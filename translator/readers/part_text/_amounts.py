"""What numbers of part text come to: exact arithmetic that knows lengths from counts.

A number without a unit may be either; it becomes a length in the file's unit where a length is
needed. Everything is a fraction until it reaches the model's grid.
"""

import re
from fractions import Fraction
from functools import lru_cache
from typing import Final

from translator.lengths.characters import FRACTIONS, SLASHES
from translator.lengths.grid import MM_DECIMALS
from translator.lengths.parse import (
    INCH,
    LONGEST_MM,
    Length,
    LengthError,
    Unit,
    either_way,
    read_length,
)
from translator.readers.part_text._book import SYNTAX, RefusalError, near, told
from translator.readers.part_text._frames import Amount, Bare, Frame
from translator.syntax.tree import Child, Extent, Node, Word

MOST_COUNTED: Final = 1_000_000
"""No count in a part file is larger; a larger one is a slip of the pen."""

_STEPS: Final = 10**MM_DECIMALS
_MOST_BITS: Final = 400
_WHOLE: Final = re.compile(r"[0-9]+")
_FRACTION: Final = re.compile(rf"(?:[0-9]+[{SLASHES}][0-9]+|[{''.join(FRACTIONS)}])[^0-9]*")
_LONGEST_DECIMAL: Final = 24


def length(value: Child, frame: Frame) -> Fraction:
    """Return a length in exact millimetres.

    Raises:
        RefusalError: for what is no length.
    """
    if frame.units is not None and isinstance(value, Word) and value.type == "NUMBER":
        return _spelled(value, frame.units).mm
    return _mm(amount_of(value, frame), frame, value.extent)


def grid(mm: Fraction) -> float:
    """Return exact millimetres on the model's grid of 0.000001 mm, as ``on_grid`` does.

    Whole numbers are so much faster than fractions that this matters for large files.
    """
    steps, rest = divmod(mm.numerator * _STEPS, mm.denominator)
    if 2 * rest > mm.denominator or (2 * rest == mm.denominator and steps % 2):
        steps += 1
    return steps / _STEPS


def size(value: Child, frame: Frame, what: str) -> Fraction:
    """Return a length greater than 0, in exact millimetres.

    Raises:
        RefusalError: for what is no size; ``what`` names it.
    """
    mm = length(value, frame)
    if grid(mm) <= 0:
        raise RefusalError(
            "size-not-positive",
            f"{told(mm, frame.units)} is no {what}: it must be more than 0.",
            value.extent,
        )
    return mm


def count(value: Child, frame: Frame, what: str) -> int:
    """Return a whole number, 0 or more.

    Raises:
        RefusalError: for what is no count; ``what`` names what is counted.
    """
    amount = _counted(value) or amount_of(value, frame)
    if amount.is_length:
        raise RefusalError(
            "count-not-whole",
            f"{told(amount.value, frame.units)} is a length, not a count of {what}.",
            value.extent,
        )
    number = amount.value
    if number.denominator != 1 or number < 0:
        raise RefusalError(
            "count-not-whole",
            f"{_number_text(number)} is no count of {what}: it must be 0 or a whole"
            " number above it.",
            value.extent,
        )
    if number > MOST_COUNTED:
        raise RefusalError(
            "count-too-large",
            f"{number} {what} are more than {MOST_COUNTED}, the most there may be.",
            value.extent,
        )
    return int(number)


def _counted(value: Child) -> Amount | None:
    """Return a plain whole number, which as a count may be more than a length may be."""
    if not isinstance(value, Word) or len(value.text) > _LONGEST_DECIMAL:
        return None
    is_whole = _WHOLE.fullmatch(value.text) is not None
    return Amount(Fraction(int(value.text)), is_length=False) if is_whole else None


def amount_of(value: Child, frame: Frame) -> Amount:
    """Return what a number, a name or a sum comes to.

    Raises:
        RefusalError: for names that stand for nothing, and sums without a meaning.
    """
    if isinstance(value, Word):
        return _number(value, frame)
    if value.name == "sum":
        return _sum(value, frame)
    amount = amount_of(value.values()[0], frame)
    return amount._replace(value=-amount.value) if value.name == "negative" else amount


def _number(word: Word, frame: Frame) -> Amount:
    if word.type == "NAME":
        return _named(word, frame)
    # Without a unit of the file, whether a fraction may be bare is asked where it is used.
    found = _spelled(word, frame.units or "inch")
    if found.bare is None:
        return Amount(found.mm, is_length=True)
    return Amount(found.bare, is_length=False, units=frame.units or "unsaid")


def _named(word: Word, frame: Frame) -> Amount:
    amount = frame.names.get(word.text)
    if amount is not None:
        return amount
    why = (
        f"{frame.owner} has no parameter of that name{near(word.text, frame.names)}"
        if frame.owner and frame.names
        else "only a family gives names to numbers."
    )
    raise RefusalError("name-unknown", f"`{word.text}` stands for nothing here: {why}", word.extent)


def _spelled(word: Word, unit: Unit) -> Length:
    try:
        return _read(word.text, unit)
    except LengthError as fault:
        raise RefusalError(SYNTAX, str(fault), word.extent) from fault


@lru_cache(maxsize=4096)
def _read(text: str, unit: Unit) -> Length:
    return read_length(text, unit)


def _sum(node: Node, frame: Frame) -> Amount:
    """Work a flat run of operands and operators; products bind first, however long it is."""
    children = node.children
    total: Amount | None = None
    product = amount_of(children[0], frame)
    sign = 1
    for place in range(1, len(children) - 1, 2):
        operator, operand = children[place], children[place + 1]
        kind = operator.type if isinstance(operator, Word) else ""
        amount = amount_of(operand, frame)
        if kind == "STAR":
            product = _times(product, amount, operand.extent)
        elif kind == "SLASH":
            product = _over(product, amount, operand.extent)
        else:
            if kind == "MINUS":
                _ask_if_either(children[place - 1], operand)
            total = _plus(total, product, sign, frame, node.extent)
            product, sign = amount, -1 if kind == "MINUS" else 1
        _keep_small(product, operand.extent)
    return _plus(total, product, sign, frame, node.extent)


def _ask_if_either(left: Child, right: Child) -> None:
    """Refuse ``11 - 1/2``: it may be the length 11-1/2 or a subtraction."""
    if not (isinstance(left, Word) and isinstance(right, Word)):
        return
    if _WHOLE.fullmatch(left.text) and _FRACTION.fullmatch(right.text):
        extent = Extent(*left.extent[:2], *right.extent[2:])
        raise RefusalError(SYNTAX, str(either_way(left.text, right.text)), extent)


def _plus(total: Amount | None, amount: Amount, sign: int, frame: Frame, extent: Extent) -> Amount:
    if total is None:
        return amount
    if total.is_length == amount.is_length:
        value = total.value + sign * amount.value
        result = Amount(value, is_length=total.is_length, units=_unit(total, amount))
    else:
        added = _mm(total, frame, extent) + sign * _mm(amount, frame, extent)
        result = Amount(added, is_length=True)
    _keep_small(result, extent)
    return result


def _times(one: Amount, other: Amount, extent: Extent) -> Amount:
    if one.is_length and other.is_length:
        raise RefusalError(
            "not-a-length", "A length times a length is an area, not a length.", extent
        )
    if one.is_length or other.is_length:
        return Amount(one.value * other.value, is_length=True)
    return Amount(one.value * other.value, is_length=False, units=_unit(one, other))


def _over(one: Amount, other: Amount, extent: Extent) -> Amount:
    if other.value == 0:
        raise RefusalError("not-a-length", "A division by 0 has no result.", extent)
    if other.is_length and not one.is_length:
        raise RefusalError(
            "not-a-length", "A number over a length is no length and no count.", extent
        )
    if one.is_length:
        return Amount(one.value / other.value, is_length=not other.is_length)
    return Amount(one.value / other.value, is_length=False, units=_unit(one, other))


def _unit(one: Amount, other: Amount) -> Bare | None:
    """Return what a bare result would take as a length."""
    if one.units is None or other.units is None or one.units == other.units:
        return one.units or other.units
    return "both"


def _keep_small(amount: Amount, extent: Extent) -> None:
    """Refuse figures that only a slip of the pen, or malice, could bring about."""
    value = amount.value
    if max(value.numerator.bit_length(), value.denominator.bit_length()) > _MOST_BITS:
        raise RefusalError(
            "number-too-long", "This sum comes to a number of too many digits: simplify it.", extent
        )


def _mm(amount: Amount, frame: Frame, extent: Extent) -> Fraction:
    if amount.is_length:
        mm = amount.value
    elif amount.units == "both":
        raise RefusalError(
            "units-differ",
            f"{_number_text(amount.value)} is worked out of bare numbers typed under different"
            " units, or under none: write the unit behind each length, as 75mm or 3in.",
            extent,
        )
    elif (amount.units or frame.units or "unsaid") == "unsaid":
        raise RefusalError(
            "units-missing",
            "A number without a unit takes the file's, and none is given before it:"
            " write `units mm` or `units inch` at the top.",
            extent,
        )
    else:
        mm = amount.value * INCH if (amount.units or frame.units) == "inch" else amount.value
    if abs(mm.numerator) > LONGEST_MM * mm.denominator:
        raise RefusalError(
            "length-too-large",
            f"{told(mm, frame.units)} is longer than a kilometre, the most a length may be.",
            extent,
        )
    return mm


def _number_text(number: Fraction) -> str:
    return str(number) if number.denominator == 1 else f"{float(number):g}"
