"""The practice that a settings file names: code, edition, contact, gauges, stock, limits."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, Final, Protocol, TypeGuard

from msgspec.structs import replace

from translator.findings import Severity
from translator.lengths.grid import on_grid
from translator.lengths.parse import LengthError
from translator.rules import rules
from translator.rules._practice import (
    Choice,
    Practice,
    ShopGauge,
    ShopLimit,
    read_limit,
    read_own_length,
)
from translator.rules._rule import Rule
from translator.tables.distance_maxima import Exposure
from translator.tables.grades import read_grade
from translator.tables.published import EDITIONS
from translator.tables.punching import punching_codes

PRACTICES: Final[tuple[Choice, ...]] = ("auto", "us", "eu", "none")
EXPOSURES: Final[tuple[Exposure, ...]] = ("sheltered", "exposed", "weathering")
CLASSES: Final = (1, 2, 3, 4)
OFF: Final = "off"
WEIGHTS: Final = (*(str(weight) for weight in Severity), OFF)


class Fault(Protocol):
    """Takes a fault of the settings file: rule, sentence, table and key it stands under."""

    def __call__(self, rule: str, message: str, within: str, key: str) -> None:
        """Note the fault."""


def read_practice(table: Mapping[str, object], fault: Fault) -> Practice:
    """Return the practice that a settings file names; what it can't use goes to ``fault``."""
    practice = Practice()
    for key, read in _READERS.items():
        if key in table:
            practice = read(practice, table[key], fault)
    return practice


def with_code(practice: Practice, code: str) -> Practice:
    """Return the practice with another code; ``code`` is one of ``PRACTICES``."""
    return replace(practice, code=next(name for name in PRACTICES if name == code))


def _code(practice: Practice, value: object, fault: Fault) -> Practice:
    if value in PRACTICES:
        return with_code(practice, str(value))
    return _bad(practice, fault, "practice", value, f"it takes {', '.join(PRACTICES)}")


def _edition(practice: Practice, value: object, fault: Fault) -> Practice:
    for name in value if isinstance(value, list) else [value]:
        if name in EDITIONS["us"]:
            practice = replace(practice, us_edition=str(name))
        elif name in EDITIONS["eu"]:
            practice = replace(practice, eu_edition=str(name))
        else:
            known = ", ".join((*EDITIONS["us"], *EDITIONS["eu"]))
            _bad(practice, fault, "edition", name, f"it takes {known}")
    return practice


def _class(practice: Practice, value: object, fault: Fault) -> Practice:
    if isinstance(value, int) and not isinstance(value, bool) and value in CLASSES:
        return replace(practice, execution_class=value)
    return _bad(practice, fault, "execution_class", value, "it takes 1, 2, 3 or 4")


def _punching(practice: Practice, value: object, fault: Fault) -> Practice:
    names = value if isinstance(value, list) else [value]
    known = punching_codes()
    if all(name in known for name in names):
        return replace(practice, punching=tuple(str(name) for name in names))
    return _bad(practice, fault, "punching", value, f"it takes some of {', '.join(known)}")


def _contact(practice: Practice, value: object, fault: Fault) -> Practice:
    for key, given in _items(value, "contact", fault):
        if key == "marks" and _is_list_of_text(given):
            practice = replace(practice, contact=tuple(given))
        elif key == "marks":
            _bad(practice, fault, key, given, "it takes a list of piece marks", "contact")
        elif key == "exposure" and given in EXPOSURES:
            found = next(name for name in EXPOSURES if name == given)
            practice = replace(practice, exposure=found)
        elif key == "exposure":
            _bad(practice, fault, key, given, f"it takes {', '.join(EXPOSURES)}", "contact")
        else:
            _unknown(fault, "contact", key, ("marks", "exposure"))
    return practice


def _gauges(practice: Practice, value: object, fault: Fault) -> Practice:
    for key, given in _items(value, "gauges", fault):
        if key == "usual" and isinstance(given, bool):
            practice = replace(practice, usual_gauges=given)
        elif key == "usual":
            _bad(practice, fault, key, given, "it takes true or false", "gauges")
        else:
            try:
                own = ShopGauge(leg_mm=_mm(key), lines_mm=_lines(given))
                practice = replace(practice, gauges=(*practice.gauges, own))
            except LengthError as error:
                fault("setting-bad", f"in [gauges], {key} is {given!r}; {error}", "gauges", key)
    return practice


def _lines(given: object) -> tuple[float, ...]:
    lines = [given] if isinstance(given, str) else given
    if not _is_list_of_text(lines):
        raise LengthError("it takes a gauge or a list of them, like 2-1/2in")
    return tuple(_mm(line) for line in lines)


def _stock(practice: Practice, value: object, fault: Fault) -> Practice:
    kept: dict[str, float | None] = {}
    for key, given in _items(value, "stock", fault):
        grade = read_grade(key).grade
        name = key.strip() if grade is None else grade.name
        try:
            kept[name] = _thickest(given)
        except LengthError as error:
            fault("setting-bad", f"in [stock], {key} is {given!r}; {error}", "stock", key)
    return replace(practice, stock=MappingProxyType(kept))


def _thickest(given: object) -> float | None:
    if given is True:
        return None
    if not isinstance(given, str):
        raise LengthError("it takes true or the thickest that is kept, like 20mm")
    return _mm(given)


def _limits(practice: Practice, value: object, fault: Fault) -> Practice:
    limits: dict[str, ShopLimit] = {}
    by_name = {rule.name: rule for rule in rules()}
    for key, given in _items(value, "limits", fault):
        if key not in by_name:
            _no_rule(fault, "limits", key)
        elif not by_name[key].limit:
            message = f"in [limits], the rule {key} has no limit that can be set"
            fault("setting-bad", message, "limits", key)
        else:
            limit = _limit(by_name[key], given, fault)
            if limit is not None:
                limits[key] = limit
    return replace(practice, limits=MappingProxyType(limits))


def _limit(rule: Rule, given: object, fault: Fault) -> ShopLimit | None:
    why = 'it takes text in quotes, like "1.5 d" or "32mm"'
    if isinstance(given, str):
        try:
            return read_limit(given, rule.limit)
        except LengthError as error:
            why = str(error)
    fault("setting-bad", f"in [limits], {rule.name} is {given!r}; {why}", "limits", rule.name)
    return None


def _severities(practice: Practice, value: object, fault: Fault) -> Practice:
    weights: dict[str, Severity | None] = {}
    known = {rule.name for rule in rules()}
    for key, given in _items(value, "severities", fault):
        if key not in known:
            _no_rule(fault, "severities", key)
        elif given not in WEIGHTS:
            _bad(practice, fault, key, given, f"it takes {', '.join(WEIGHTS)}", "severities")
        else:
            weights[key] = None if given == OFF else Severity(str(given))
    return replace(practice, severities=MappingProxyType(weights))


def _items(value: object, key: str, fault: Fault) -> Iterator[tuple[str, Any]]:
    if isinstance(value, Mapping):
        yield from value.items()
    else:
        fault("setting-bad", f"{key} is {value!r}; it is a table, [{key}]", "", key)


def _bad(  # noqa: PLR0913, PLR0917 - what a sentence is made of
    practice: Practice, fault: Fault, key: str, value: object, takes: str, within: str = ""
) -> Practice:
    where = f"in [{within}], " if within else ""
    fault("setting-bad", f"{where}{key} is {value!r}; {takes}", within, key)
    return practice


def _unknown(fault: Fault, within: str, key: str, known: tuple[str, ...]) -> None:
    message = f"in [{within}], there is no setting {key!r}; there are {', '.join(known)}"
    fault("setting-unknown", message, within, key)


def _no_rule(fault: Fault, within: str, key: str) -> None:
    message = f"in [{within}], there is no rule {key!r}; `backmark rules` lists them"
    fault("setting-unknown", message, within, key)


def _is_list_of_text(value: object) -> TypeGuard[list[str]]:
    return isinstance(value, list) and bool(value) and all(isinstance(v, str) for v in value)


def _mm(text: str) -> float:
    return on_grid(read_own_length(text)[0])


_READERS: Final[Mapping[str, Callable[[Practice, object, Fault], Practice]]] = MappingProxyType(
    {
        "practice": _code,
        "edition": _edition,
        "execution_class": _class,
        "punching": _punching,
        "contact": _contact,
        "gauges": _gauges,
        "stock": _stock,
        "limits": _limits,
        "severities": _severities,
    }
)

KEYS: Final = tuple(_READERS)
"""The settings read here."""
