"""The practice that parts are judged by: code and edition, and what the shop says of itself."""

import re
from collections.abc import Mapping
from fnmatch import fnmatchcase
from fractions import Fraction
from types import MappingProxyType
from typing import Final, Literal

from msgspec import Struct, field

from translator.findings import Severity
from translator.lengths.grid import on_grid
from translator.lengths.parse import LengthError, Unit, read_length
from translator.tables.distance_maxima import Exposure
from translator.tables.published import edition_of

Code = Literal["us", "eu"]
"""us: AISC 360. eu: EN 1993-1-8 and EN 1090-2."""

Choice = Literal["auto", "us", "eu", "none"]
"""auto: each hole by the unit of its bolt, else of its part. none: no code at all."""

Symbol = Literal["d", "d0", "t", "%", ""]
"""What a limit is a multiple of: bolt, hole, thickness, hundredths, or nothing (a length)."""

USUAL_CLASS: Final = 2
"""Execution class where none is named, EN 1090-2 (from memory)."""

_MULTIPLE: Final = re.compile(
    r"(?:(?P<whole>[0-9]{1,4})-)?(?P<number>[0-9]{1,4}(?:\.[0-9]{1,6}|/[1-9][0-9]{0,2})?)"
    r"\s*(?P<symbol>d0|d|t|%)"
)


class ShopLimit(Struct, frozen=True, kw_only=True):
    """A limit as a shop sets it: ``1.5 d``, ``2 t``, ``32mm``, ``1-1/4in``, ``5 %``.

    Attributes:
        text: as written.
        times: the number before the symbol, or the length in millimetres.
        symbol: what it is a multiple of, "" for a length.
        unit: of a length; mm for a multiple.
    """

    text: str
    times: Fraction
    symbol: Symbol
    unit: Unit = "mm"

    def exact_mm(
        self,
        *,
        bolt_mm: Fraction = Fraction(0),
        hole_mm: Fraction = Fraction(0),
        thickness_mm: Fraction = Fraction(0),
    ) -> Fraction:
        """Return the limit in millimetres; in hundredths for a limit in per cent."""
        sizes = {"d": bolt_mm, "d0": hole_mm, "t": thickness_mm}
        return self.times * sizes.get(self.symbol, Fraction(1))


class ShopGauge(Struct, frozen=True, kw_only=True):
    """The gauges that a shop uses on a leg, millimetres from the heel."""

    leg_mm: float
    lines_mm: tuple[float, ...]


class Practice(Struct, frozen=True, kw_only=True):
    """What a delivery is judged by.

    Attributes:
        code: which code, or how it is chosen.
        us_edition: edition of AISC 360.
        eu_edition: edition of EN 1090-2.
        execution_class: 1 to 4 of EN 1090-2; None where nobody names it.
        punching: codes of the table of punching limits; None leaves it to the practice.
        contact: piece marks, or patterns of them, that stay in contact with another part.
        exposure: of the parts in contact, to weather.
        usual_gauges: hold gauges against the published tables.
        gauges: the shop's own gauges.
        stock: grade as the tables name it -> thickest that is kept (mm), None for any.
        limits: name of a rule -> the shop's limit in place of the code's.
        severities: name of a rule -> what its findings weigh; None switches it off.
    """

    code: Choice = "auto"
    us_edition: str = edition_of("us")
    eu_edition: str = edition_of("eu")
    execution_class: int | None = None
    punching: tuple[str, ...] | None = None
    contact: tuple[str, ...] = ()
    exposure: Exposure = "exposed"
    usual_gauges: bool = False
    gauges: tuple[ShopGauge, ...] = ()
    stock: Mapping[str, float | None] = field(default_factory=lambda: MappingProxyType({}))
    limits: Mapping[str, ShopLimit] = field(default_factory=lambda: MappingProxyType({}))
    severities: Mapping[str, Severity | None] = field(default_factory=lambda: MappingProxyType({}))

    def edition(self, code: Code) -> str:
        """Return the edition of a code that counts."""
        return self.us_edition if code == "us" else self.eu_edition

    def codes_for(self, units: Unit) -> tuple[Code, ...]:
        """Return the codes that a thing given in a unit may fall under, the likelier first."""
        if self.code == "none":
            return ()
        if self.code != "auto":
            return (self.code,)
        return ("us", "eu") if units == "inch" else ("eu", "us")

    def is_in_contact(self, mark: str) -> bool:
        """Tell whether a piece mark is said to be in contact with another part."""
        return any(fnmatchcase(mark, pattern) for pattern in self.contact)

    @property
    def changes(self) -> tuple[tuple[str, str], ...]:
        """The rules that the settings hold to another limit or weight, and how."""
        limits = (
            (name, f"held to {limit.text}, not to the code's figure")
            for name, limit in self.limits.items()
        )
        weights = (
            (name, f"weighed as {weight}")
            for name, weight in self.severities.items()
            if weight is not None
        )
        return (*limits, *weights)

    @property
    def words(self) -> str:
        """The code and edition, for the report."""
        us = f"AISC {self.us_edition}"
        eu = f"EN 1993-1-8:2005 with EN 1090-2:{self.eu_edition}"
        return {
            "us": f"us: {us}",
            "eu": f"eu: {eu}",
            "none": "none: no connection practice is checked",
            "auto": f"auto: each hole by the unit of its bolt, else of its part: {us} for inches,"
            f" {eu} for millimetres",
        }[self.code]


def read_limit(text: str, symbols: tuple[Symbol, ...]) -> ShopLimit:
    """Read a limit as a shop writes it.

    Args:
        text: a multiple such as ``1.5 d`` or ``2-2/3 d``, or a length with its unit.
        symbols: what may be used; "" allows a length.

    Raises:
        LengthError: with a sentence, for anything else.
    """
    found = _MULTIPLE.fullmatch(text.strip())
    if found is not None and found["symbol"] in symbols:
        times = int(found["whole"] or 0) + Fraction(found["number"])
        _refuse_nothing(text, times)
        symbol = next(s for s in symbols if s == found["symbol"])
        return ShopLimit(text=text.strip(), times=times, symbol=symbol)
    if found is not None or "" not in symbols:
        raise LengthError(f"{text!r} is no limit here: {allowed(symbols)}")
    mm, unit = read_own_length(text)
    _refuse_nothing(text, mm)
    return ShopLimit(text=text.strip(), times=mm, symbol="", unit=unit)


def _refuse_nothing(text: str, figure: Fraction) -> None:
    if figure <= 0:
        raise LengthError(
            f"{text!r} is no limit: it must be more than 0; to switch a rule off, write"
            ' "off" for it under [severities]'
        )


def read_own_length(text: str) -> tuple[Fraction, Unit]:
    """Read a length of the settings, which always names its unit: ``90mm``, ``3-1/2in``.

    Raises:
        LengthError: with a sentence, for anything else.
    """
    length = read_length(text, "inch")
    if length.bare is not None:
        raise LengthError(f"{text!r} does not name its unit: write it like 90mm or 3-1/2in")
    return length.mm, length.unit


def allowed(symbols: tuple[Symbol, ...]) -> str:
    """Return in words what a limit may be written as."""
    words = {
        "d": "a multiple of the bolt like 1.5 d",
        "d0": "of the hole like 1.2 d0",
        "t": "of the thickness like 2 t",
        "%": "hundredths like 5 %",
        "": "a length like 32mm or 1-1/4in",
    }
    return "it takes " + ", ".join(words[symbol] for symbol in symbols)


def fits_gauge(lines_mm: tuple[float, ...], gauge_mm: float, nearness_mm: float) -> bool:
    """Tell whether a gauge is one of a leg's lines."""
    return any(on_grid(abs(line - gauge_mm)) <= nearness_mm for line in lines_mm)


def needs_code(practice: Practice) -> str:
    """Return why a rule that rests on a code does not apply, "" where it does."""
    return 'the practice is "none"' if practice.code == "none" else ""
