"""All readings that open settings leave, and whether they give one and the same piece."""

from collections.abc import Mapping
from itertools import product
from typing import Final

from msgspec import Struct

from translator.conventions import AUTO, CHOICES, Conventions, with_setting
from translator.model import Angle
from translator.readers.nc._items import Layout
from translator.readers.nc._layout import lay
from translator.readers.nc._records import Records

OPEN_SETTINGS: Final = (
    "u_view_bottom",
    "y_datum",
    "h_view",
    "arc_sign",
    "mitre_sign",
    "flange_cut_view",
)
"""Settings for which the standard at hand gives no default."""

DEFAULTS: Final = (("slot_reference", "first-centre"), ("slot_length", "centres"))
"""Settings with a default, used when nothing else is said and reported when used."""


class Readings(Struct, frozen=True, kw_only=True):
    """The layouts under all readings.

    Attributes:
        layouts: values of the open settings -> layout; one entry with an empty key when
            nothing is open.
        deciding: the open settings that make a difference; empty when all layouts are one.
        assumed: settings whose default was used.
    """

    layouts: Mapping[tuple[tuple[str, str], ...], Layout]
    deciding: tuple[str, ...]
    assumed: tuple[tuple[str, str], ...]

    @property
    def chosen(self) -> Layout:
        """The first layout; the piece when nothing is left open."""
        return next(iter(self.layouts.values()))


def relevant(records: Records) -> tuple[str, ...]:
    """Return the open settings that a piece could depend on, by what its file uses."""
    views, refs = records.views(), records.refs()
    cuts, is_angle = records.header.cuts, isinstance(records.section, Angle)
    outlined = {contour.view for contour in records.outers}
    has_flange_cut = is_angle and any((cuts.flange_start, cuts.flange_end))
    flange_open = has_flange_cut and not outlined & {"u", "o"}
    web_open = any((cuts.web_start, cuts.web_end)) and not outlined & {"v", "h"}
    contours = (*records.outers, *records.inners, *records.lines)
    uses = {
        "u_view_bottom": (is_angle and "u" in views) or flange_open,
        "y_datum": bool(refs & {"o", "s"}),
        "h_view": "h" in views,
        "arc_sign": any(point.radius for contour in contours for point in contour.points),
        "mitre_sign": flange_open or web_open,
        "flange_cut_view": flange_open,
    }
    return tuple(name for name in OPEN_SETTINGS if uses[name])


def read_all(records: Records, conventions: Conventions) -> Readings:
    """Lay a piece out under every reading that the conventions leave open."""
    assumed = tuple((name, value) for name, value in DEFAULTS if getattr(conventions, name) == AUTO)
    for name, value in assumed:
        conventions = with_setting(conventions, name, value)
    needed = relevant(records)
    names = tuple(name for name in needed if getattr(conventions, name) == AUTO)
    layouts: dict[tuple[tuple[str, str], ...], Layout] = {}
    for values in product(*(CHOICES[name][1:] for name in names)):
        key = tuple(zip(names, values, strict=True))
        reading = _closed(conventions)
        for name, value in key:
            reading = with_setting(reading, name, value)
        layouts[key] = lay(records, reading)
    return Readings(layouts=layouts, deciding=_deciding(layouts, names), assumed=assumed)


def _closed(conventions: Conventions) -> Conventions:
    """Give every setting that the piece does not depend on some value."""
    for name in OPEN_SETTINGS:
        if getattr(conventions, name) == AUTO:
            conventions = with_setting(conventions, name, CHOICES[name][1])
    return conventions


def _deciding(
    layouts: Mapping[tuple[tuple[str, str], ...], Layout], names: tuple[str, ...]
) -> tuple[str, ...]:
    """Return the settings for which a change alone, all others kept, changes the piece."""
    found = []
    for index, name in enumerate(names):
        first = CHOICES[name][1]
        for key, layout in layouts.items():
            if key[index][1] != first:
                continue
            others = [
                layouts[(*key[:index], (name, value), *key[index + 1 :])]
                for value in CHOICES[name][2:]
            ]
            if not all(layout.is_same(other) for other in others):
                found.append(name)
                break
    return tuple(found)
