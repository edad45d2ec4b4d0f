"""What numbers of part text come to: exact arithmetic that knows lengths from counts.

A number without a unit may be either; it becomes a length in the file's unit where a length is
needed. Everything is a fraction until it reaches the model's grid.
"""

import re
from fractions import Fraction
from functools import lru_cache
from typing import Final, NamedTuple

from translator.lengths.characters import BLANKS, FRACTIONS, SLASHES, shown
from translator.lengths.parse import (
    INCH,
    LONGEST_MM,
    Length,
    LengthError,
    Unit,
    either_way,
    read_length,
)
from translator.model.numbers import MM_DECIMALS
from translator.readers.part_text._book import SYNTAX, RefusalError, told
from translator.syntax.tree import Child, Extent, Node, Word

MOST_COUNTED: Final = 1_000_000
"""No count in a part file is larger; a larger one is a slip of the pen."""

_STEPS: Final = 10**MM_DECIMALS
_MOST_BITS: Final = 400
_WHOLE: Final = re.compile(r"[0-9]+")
_FRACTION: Final = re.compile(rf"(?:[0-9]+[{SLASHES}][0-9]+|[{''.join(FRACTIONS)}])[^0-9]*")
_DECIMAL: Final = re.compile(r"[0-9]*\.?[0-9]+")
_DEGREE_SIGNS: Final = f"degrsDEGRS\u00b0{BLANKS}"
_LONGEST_DECIMAL: Final = 24


class Amount(NamedTuple):
    """A value: a length in millimetres, or a bare number that may be a length or a count."""

    value: Fraction
    is_length: bool


def length(value: Child, units: Unit | None) -> Fraction:
    """Return a length in exact millimetres.

    Raises:
        RefusalError: for what is no length.
    """
    if units is not None and isinstance(value, Word) and value.type == "NUMBER":
        return _spelled(value, units).mm
    return _mm(_amount(value, units), units, value.extent)


def grid(mm: Fraction) -> float:
    """Return exact millimetres on the model's grid of 0.000001 mm, as ``on_grid`` does.

    Whole numbers are so much faster than fractions that this matters for large files.
    """
    steps, rest = divmod(mm.numerator * _STEPS, mm.denominator)
    if 2 * rest > mm.denominator or (2 * rest == mm.denominator and steps % 2):
        steps += 1
    return steps / _STEPS


def size(value: Child, units: Unit | None, what: str) -> Fraction:
    """Return a length greater than 0, in exact millimetres.

    Raises:
        RefusalError: for what is no size; ``what`` names it.
    """
    mm = length(value, units)
    if grid(mm) <= 0:
        raise RefusalError(
            "size-not-positive",
            f"{told(mm, units)} is no {what}: it must be more than 0.",
            value.extent,
        )
    return mm


def count(value: Child, units: Unit | None, what: str) -> int:
    """Return a whole number, 0 or more.

    Raises:
        RefusalError: for what is no count; ``what`` names what is counted.
    """
    amount = _counted(value) or _amount(value, units)
    if amount.is_length:
        raise RefusalError(
            "count-not-whole",
            f"{told(amount.value, units)} is a length, not a count of {what}.",
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


def decimal(word: Word, *, minus: bool = False) -> float:
    """Return the number that leads a word with a unit (``15deg``, ``12.2kg/m``) or stands alone.

    Raises:
        RefusalError: for a number of very many digits, or a fraction.
    """
    found = _DECIMAL.match(word.text)
    rest = "" if found is None else word.text[found.end() :]
    if found is None or len(found[0]) > _LONGEST_DECIMAL or (word.type == "NUMBER" and rest):
        raise RefusalError(
            SYNTAX, f"`{word.text[:_LONGEST_DECIMAL]}` is no decimal number.", word.extent
        )
    return -float(found[0]) if minus else float(found[0])


def degrees(angle: Node) -> float:
    """Return an angle in degrees, with its sign.

    Raises:
        RefusalError: for a number of very many digits, or parts that no rule has.
    """
    word, minus = angle.last_word, angle.has("MINUS")
    spelled = word.text.rstrip(_DEGREE_SIGNS)
    if _DECIMAL.fullmatch(spelled):
        return decimal(word, minus=minus)
    try:
        # 22-1/2 degrees is spelled as inches are, and exact as a decimal.
        mixed = read_length(spelled, "inch").bare or Fraction(0)
    except LengthError as fault:
        message = f"`{shown(word.text)}` has odd parts of a degree: write it as a decimal."
        raise RefusalError(SYNTAX, message, word.extent) from fault
    return float(-mixed if minus else mixed)


def _amount(value: Child, units: Unit | None) -> Amount:
    if isinstance(value, Word):
        return _number(value, units)
    if value.name == "sum":
        return _sum(value, units)
    amount = _amount(value.values()[0], units)
    return amount._replace(value=-amount.value) if value.name == "negative" else amount


def _number(word: Word, units: Unit | None) -> Amount:
    if word.type == "NAME":
        raise RefusalError(
            "name-unknown",
            f"`{word.text}` stands for nothing here: only a family gives names to numbers.",
            word.extent,
        )
    # Without a unit of the file, whether a fraction may be bare is asked where it is used.
    found = _spelled(word, units or "inch")
    if found.bare is None:
        return Amount(found.mm, is_length=True)
    return Amount(found.bare, is_length=False)


def _spelled(word: Word, unit: Unit) -> Length:
    try:
        return _read(word.text, unit)
    except LengthError as fault:
        raise RefusalError(SYNTAX, str(fault), word.extent) from fault


@lru_cache(maxsize=4096)
def _read(text: str, unit: Unit) -> Length:
    return read_length(text, unit)


def _sum(node: Node, units: Unit | None) -> Amount:
    """Work a flat run of operands and operators; products bind first, however long it is."""
    children = node.children
    total: Amount | None = None
    product = _amount(children[0], units)
    sign = 1
    for place in range(1, len(children) - 1, 2):
        operator, operand = children[place], children[place + 1]
        kind = operator.type if isinstance(operator, Word) else ""
        amount = _amount(operand, units)
        if kind == "STAR":
            product = _times(product, amount, operand.extent)
        elif kind == "SLASH":
            product = _over(product, amount, operand.extent)
        else:
            if kind == "MINUS":
                _ask_if_either(children[place - 1], operand)
            total = _plus(total, product, sign, units, node.extent)
            product, sign = amount, -1 if kind == "MINUS" else 1
        _keep_small(product, operand.extent)
    return _plus(total, product, sign, units, node.extent)


def _ask_if_either(left: Child, right: Child) -> None:
    """Refuse ``11 - 1/2``: it may be the length 11-1/2 or a subtraction."""
    if not (isinstance(left, Word) and isinstance(right, Word)):
        return
    if _WHOLE.fullmatch(left.text) and _FRACTION.fullmatch(right.text):
        extent = Extent(*left.extent[:2], *right.extent[2:])
        raise RefusalError(SYNTAX, str(either_way(left.text, right.text)), extent)


def _plus(
    total: Amount | None, amount: Amount, sign: int, units: Unit | None, extent: Extent
) -> Amount:
    if total is None:
        return amount
    if total.is_length == amount.is_length:
        result = total._replace(value=total.value + sign * amount.value)
    else:
        added = _mm(total, units, extent) + sign * _mm(amount, units, extent)
        result = Amount(added, is_length=True)
    _keep_small(result, extent)
    return result


def _times(one: Amount, other: Amount, extent: Extent) -> Amount:
    if one.is_length and other.is_length:
        raise RefusalError(
            "not-a-length", "A length times a length is an area, not a length.", extent
        )
    return Amount(one.value * other.value, is_length=one.is_length or other.is_length)


def _over(one: Amount, other: Amount, extent: Extent) -> Amount:
    if other.value == 0:
        raise RefusalError("not-a-length", "A division by 0 has no result.", extent)
    if other.is_length and not one.is_length:
        raise RefusalError(
            "not-a-length", "A number over a length is no length and no count.", extent
        )
    return Amount(one.value / other.value, is_length=one.is_length and not other.is_length)


def _keep_small(amount: Amount, extent: Extent) -> None:
    """Refuse figures that only a slip of the pen, or malice, could bring about."""
    value = amount.value
    if max(value.numerator.bit_length(), value.denominator.bit_length()) > _MOST_BITS:
        raise RefusalError(
            "number-too-long", "This sum comes to a number of too many digits: simplify it.", extent
        )


def _mm(amount: Amount, units: Unit | None, extent: Extent) -> Fraction:
    if amount.is_length:
        mm = amount.value
    elif units is None:
        raise RefusalError(
            "units-missing",
            "A number without a unit takes the file's, and none is given before it:"
            " write `units mm` or `units inch` at the top.",
            extent,
        )
    else:
        mm = amount.value * INCH if units == "inch" else amount.value
    if abs(mm.numerator) > LONGEST_MM * mm.denominator:
        raise RefusalError(
            "length-too-large",
            f"{told(mm, units)} is longer than a kilometre, the most a length may be.",
            extent,
        )
    return mm


def _number_text(number: Fraction) -> str:
    return str(number) if number.denominator == 1 else f"{float(number):g}"
