"""What the settings say of the bill: the names of its columns and the units of its figures."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, Final, Literal

from msgspec import Struct, field
from msgspec.structs import replace

from translator.batch.practice import Fault
from translator.lengths.parse import Unit

TABLE: Final = "bill"
COLUMNS: Final = "columns"
ELSEWHERE: Final = "elsewhere"
UNITS: Final[tuple[Unit, ...]] = ("mm", "inch")
MassUnit = Literal["kg", "lb"]
MASS_UNITS: Final[tuple[MassUnit, ...]] = ("kg", "lb")

FIELDS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "mark": ("piece mark", "part mark", "pc mark", "mark", "part", "position", "pos"),
        "order": ("order", "order no", "order number", "job", "job no", "contract", "project"),
        "quantity": (
            *("total quantity", "total qty", "qty total", "quantity", "qty", "no off"),
            *("number off", "count", "pieces", "pcs"),
        ),
        "section": ("section", "profile", "shape", "section size", "size", "designation"),
        "length": (
            *("length", "cut length", "len", "length mm", "length in", "length inch"),
            *("length inches", "length ft in"),
        ),
        "grade": ("grade", "steel grade", "material grade", "material", "steel", "quality"),
        "revision": ("revision", "rev", "rev no", "revision no"),
        "mass": (
            *("mass", "mass kg", "weight", "weight kg", "weight lb", "weight lbs", "mass each"),
            *("mass each kg", "weight each", "unit weight", "total mass", "total weight"),
        ),
    }
)
"""Fields of the bill, and the names that their columns usually have, best first."""

REQUIRED: Final = ("mark", "quantity")


class BillSettings(Struct, frozen=True, kw_only=True):
    """The table ``[bill]``.

    Attributes:
        columns: field -> name of its column, in place of the usual names.
        units: what bare lengths and sizes are in; None where not said.
        mass: unit of the masses; None where not said.
        elsewhere: patterns of marks that others make; no part is missed for them.
    """

    columns: Mapping[str, str] = field(default_factory=dict)
    units: Unit | None = None
    mass: MassUnit | None = None
    elsewhere: tuple[str, ...] = ()


def read_bill_settings(value: object, fault: Fault) -> BillSettings:
    """Return what the table ``[bill]`` says; what it can't use goes to ``fault``."""
    settings = BillSettings()
    if not isinstance(value, Mapping):
        fault("setting-bad", f"{TABLE} is {value!r}; it is a table, [{TABLE}]", "", TABLE)
        return settings
    for key, given in value.items():
        if key == COLUMNS:
            settings = replace(settings, columns=_columns(given, fault))
        elif key == ELSEWHERE:
            settings = replace(settings, elsewhere=_elsewhere(given, fault))
        elif key == "units" and given in UNITS:
            settings = replace(settings, units=next(unit for unit in UNITS if unit == given))
        elif key == "mass" and given in MASS_UNITS:
            settings = replace(settings, mass=next(unit for unit in MASS_UNITS if unit == given))
        elif key in ("units", "mass"):
            takes = " or ".join(UNITS if key == "units" else MASS_UNITS)
            fault("setting-bad", f"in [bill], {key} is {given!r}; it takes {takes}", TABLE, key)
        else:
            known = f"{COLUMNS}, units, mass, {ELSEWHERE}"
            message = f"in [bill], there is no setting {key!r}; there are {known}"
            fault("setting-unknown", message, TABLE, key)
    return settings


def _columns(given: object, fault: Fault) -> Mapping[str, str]:
    if not isinstance(given, Mapping):
        takes = 'it takes names of columns, like { mark = "Pc Mark" }'
        fault("setting-bad", f"in [bill], columns is {given!r}; {takes}", TABLE, COLUMNS)
        return {}
    columns: dict[str, str] = {}
    for name, column in given.items():
        if name not in FIELDS:
            message = f"a bill has no field {name!r}; it has {', '.join(FIELDS)}"
            fault("setting-unknown", message, TABLE, COLUMNS)
        elif isinstance(column, str) and column.strip():
            columns[name] = column
        else:
            message = f"in [bill], the column of the {name} is {column!r}; it takes a name"
            fault("setting-bad", message, TABLE, COLUMNS)
    return columns


def _elsewhere(given: object, fault: Fault) -> tuple[str, ...]:
    if isinstance(given, list) and all(isinstance(one, str) and one.strip() for one in given):
        return tuple(given)
    takes = 'it takes a list of marks or patterns of them, like ["P*"]'
    fault("setting-bad", f"in [bill], {ELSEWHERE} is {given!r}; {takes}", TABLE, ELSEWHERE)
    return ()


def bill_settings_schema() -> dict[str, Any]:
    """Return the JSON Schema of the table."""
    name = {"type": "string", "pattern": "\\S"}
    return {
        "description": "How to read the bill that `check --bill` holds parts against.",
        "type": "object",
        "properties": {
            COLUMNS: {
                "description": "Names of the bill's columns, where they are not the usual ones.",
                "type": "object",
                "properties": dict.fromkeys(FIELDS, name),
                "additionalProperties": False,
            },
            "units": {
                "description": "Unit of bare lengths and sizes; else that of each part.",
                "enum": list(UNITS),
            },
            "mass": {
                "description": "Unit of masses; else either is tried.",
                "enum": list(MASS_UNITS),
            },
            ELSEWHERE: {
                "description": "Marks, or patterns of them, that others make.",
                "type": "array",
                "items": name,
            },
        },
        "additionalProperties": False,
    }
