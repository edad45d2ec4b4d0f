"""The tolerances that a settings file names, for the sheet of a first piece."""

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from msgspec.structs import replace

from translator.batch.practice import Fault
from translator.lengths.parse import LengthError
from translator.pages._tolerances import CLASSES, QUANTITIES, ShopTolerance, ShopTolerances
from translator.rules._practice import read_own_length

TABLE: Final = "tolerances"
CLASS: Final = "class"
_TAKES: Final = 'it takes text like "1/16in", or { minus = "0mm", plus = "2mm" }'
_SIDES: Final = {"minus", "plus"}


def read_tolerances(value: object, fault: Fault) -> ShopTolerances:
    """Return what the table ``[tolerances]`` says; what it can't use goes to ``fault``."""
    if not isinstance(value, Mapping):
        fault("setting-bad", f"{TABLE} is {value!r}; it is a table, [{TABLE}]", "", TABLE)
        return ShopTolerances()
    shop, own = ShopTolerances(), {}
    for key, given in value.items():
        if key == CLASS:
            shop = _class(shop, given, fault)
        elif key not in QUANTITIES:
            known = ", ".join((CLASS, *QUANTITIES))
            message = f"in [{TABLE}], there is no setting {key!r}; there are {known}"
            fault("setting-unknown", message, TABLE, key)
        else:
            try:
                own[key] = _tolerance(given)
            except LengthError as error:
                message = f"in [{TABLE}], {key} is {given!r}; {error}"
                fault("setting-bad", message, TABLE, key)
    return replace(shop, own=MappingProxyType(own))


def _class(shop: ShopTolerances, given: object, fault: Fault) -> ShopTolerances:
    if isinstance(given, int) and not isinstance(given, bool) and given in CLASSES:
        return replace(shop, tolerance_class=given)
    message = f"in [{TABLE}], {CLASS} is {given!r}; it takes 1 or 2, the classes of EN 1090-2"
    fault("setting-bad", message, TABLE, CLASS)
    return shop


def _tolerance(given: object) -> ShopTolerance:
    if isinstance(given, str):
        size, unit = read_own_length(given)
        return _checked(ShopTolerance(lower=-size, upper=size, unit=unit))
    if isinstance(given, Mapping) and set(given) == _SIDES:
        minus, plus = given["minus"], given["plus"]
        if isinstance(minus, str) and isinstance(plus, str):
            (low, _), (high, unit) = read_own_length(minus), read_own_length(plus)
            return _checked(ShopTolerance(lower=-low, upper=high, unit=unit))
    raise LengthError(_TAKES)


def _checked(found: ShopTolerance) -> ShopTolerance:
    if found.lower > 0 or found.upper < 0:
        raise LengthError("minus and plus are written without a sign")
    if found.lower == found.upper == Fraction(0):
        raise LengthError("no size is made without any deviation")
    return found
