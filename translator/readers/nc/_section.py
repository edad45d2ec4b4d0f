"""The cross-section: the header's numbers are the truth, the designation is held against them."""

from typing import Final, Literal

from msgspec import Struct

from translator.model import Angle, Flat, on_grid
from translator.readers.nc._book import Book
from translator.readers.nc._header import Header
from translator.readers.nc._inch import INCH, ROUNDED_MM, is_inch
from translator.tables.angles import by_sizes, nearest
from translator.tables.designations import SectionReading, parse_section

NAMED_MM: Final = 0.5
"""A name may round its sizes by this much (soft-metric names) and still be the name."""

Kind = Literal["angle", "flat"]

_DIFFERS_MM: Final = 0.05
_INCH_SHARE: Final = 0.02
_LARGEST_INCHES: Final = 12.0
_THIN_ANGLE_MM: Final = 12.5
_NARROW_FLAT_MM: Final = 9.5
_LINE_NAME: Final = 7
_LINE_HEIGHT: Final = 10
_LINE_FLANGE: Final = 11
_LINE_WEB: Final = 13
_LINE_RADIUS: Final = 14


class Found(Struct, frozen=True, kw_only=True):
    """The section, and whether the file comes from an inch source."""

    section: Angle | Flat
    is_inch: bool


def kind_of(profile: str, header: Header | None, book: Book) -> Kind | None:
    """Return whether a profile code means an angle or a flat, None when it is neither.

    A flat that a careless writer coded as SO is taken as a flat when its designation and its
    numbers agree on one.
    """
    if profile == "L":
        return "angle"
    if profile == "B":
        return "flat"
    if profile == "SO" and header is not None and _named_flat(header) is not None:
        text = (
            f"profile code SO, but {header.designation} and the sizes are those of a flat;"
            " read as code B"
        )
        book.warn("nc-profile-code", text, header.lines[8])
        return "flat"
    return None


def _named_flat(header: Header) -> Flat | None:
    thickness = header.web_thickness or header.flange_thickness
    for section in _named(header.designation):
        if isinstance(section, Flat) and _fits(
            (section.width_mm, section.thickness_mm), (header.height, thickness), _DIFFERS_MM
        ):
            return section
    return None


def _named(designation: str | None) -> list[Angle | Flat]:
    return [r.section for r in _readings(designation) if r.section is not None]


def _readings(designation: str | None) -> list[SectionReading]:
    """Read a designation in millimetres and in inches; tables decide which one is meant."""
    if designation is None:
        return []
    return [parse_section(designation, "mm"), parse_section(designation, "inch")]


def _fits(named: tuple[float, ...], given: tuple[float, ...], within: float) -> bool:
    return all(abs(n - g) <= within for n, g in zip(named, given, strict=True))


def read_section(kind: Kind, header: Header, book: Book) -> Found | None:
    """Build the section from the header; None with an error in the book when it cannot be."""
    if _left_in_inches(kind, header, book):
        return None
    sizes = _angle_sizes(header, book) if kind == "angle" else _flat_sizes(header, book)
    if sizes is None:
        return None
    named = _named(header.designation)
    other = [s for s in named if (s.kind == "flat") != (kind == "flat")]
    if named and len(other) == len(named):
        text = (
            f"designation {header.designation} is that of {_words(other[0])}, but profile code"
            f" {'L' if kind == 'angle' else 'B'} and the sizes say {_kind_words(kind)}"
        )
        book.refuse("nc-designation", text, header.lines[_LINE_NAME])
        return None
    same = [s for s in named if s.kind == kind]
    try:
        section = (
            _angle(header, sizes, same, book) if kind == "angle" else _flat(header, sizes, same)
        )
    except ValueError as error:
        text = f"the section's sizes do not fit together: {_reason(error)}"
        book.refuse("nc-section", text, header.lines[_LINE_HEIGHT])
        return None
    _say_name(header, section, same, book)
    return Found(section=section, is_inch=is_inch(section))


def _reason(error: ValueError) -> str:
    _, _, reason = str(error).partition("Value error, ")
    return reason.partition(" [type=")[0] or "they are out of range"


def _words(section: Angle | Flat) -> str:
    return _kind_words(section.kind)


def _kind_words(kind: str) -> str:
    return "an angle" if kind == "angle" else "a flat"


def _left_in_inches(kind: Kind, header: Header, book: Book) -> bool:
    """Tell, with an error, when the sizes are plainly inches and not millimetres."""
    given = [header.height, header.web_thickness or header.flange_thickness]
    named = [s.leg_a_mm if isinstance(s, Angle) else s.width_mm for s in _named(header.designation)]
    by_name = any(
        name > 0 and abs(header.height * INCH - name) <= _INCH_SHARE * name for name in named
    )
    low = _THIN_ANGLE_MM if kind == "angle" else _NARROW_FLAT_MM
    says_mm = "mm" in (header.designation or "").lower()
    if says_mm or header.height <= 0.0 or (not by_name and max(given) > low):
        return False
    text = (
        f"height {header.height:g} and thickness {given[1]:g} look like inches for"
        f" {header.designation or _kind_words(kind)}, and the format is in millimetres; nothing"
        f" was scaled. If they are inches, have the file written in millimetres (x 25.4:"
        f" {header.height * INCH:.2f} and {given[1] * INCH:.2f} mm)"
    )
    book.refuse("nc-inches", text, header.lines[_LINE_HEIGHT])
    return True


def _angle_sizes(header: Header, book: Book) -> tuple[float, ...] | None:
    """Return leg a, leg b and thickness of an angle."""
    for value, what, line in (
        (header.height, "the profile height (leg in view v)", _LINE_HEIGHT),
        (header.flange, "the flange width (leg in view u)", _LINE_FLANGE),
    ):
        if value <= 0.0:
            text = f"{what} of an angle is {value:g}, not greater than 0"
            book.refuse("nc-section", text, header.lines[line])
            return None
    web, flange = header.web_thickness, header.flange_thickness
    if web > 0.0 and flange > 0.0 and abs(web - flange) > _DIFFERS_MM:
        text = (
            f"web thickness {web:g} mm and flange thickness {flange:g} mm of an angle differ;"
            f" {web:g} mm was taken for both legs"
        )
        book.warn("nc-thickness", text, header.lines[_LINE_WEB])
    if web <= 0.0 < flange:
        text = f"the web thickness is 0; {flange:g} mm was taken from the flange thickness"
        book.warn("nc-thickness", text, header.lines[_LINE_WEB])
    thickness = web if web > 0.0 else flange
    if thickness <= 0.0:
        text = "web and flange thickness are both 0; an angle needs a thickness"
        book.refuse("nc-section", text, header.lines[_LINE_WEB])
        return None
    return header.height, header.flange, thickness


def _flat_sizes(header: Header, book: Book) -> tuple[float, ...] | None:
    """Return width and thickness of a flat; line 13 carries the thickness, else 12, else 11."""
    if header.height <= 0.0:
        text = f"the profile height (width) of a flat is {header.height:g}, not greater than 0"
        book.refuse("nc-section", text, header.lines[_LINE_HEIGHT])
        return None
    if header.web_thickness > 0.0:
        return header.height, header.web_thickness
    if header.flange_thickness > 0.0:
        thickness, source = header.flange_thickness, "the flange thickness"
    elif 0.0 < header.flange < header.height / 2:
        thickness, source = header.flange, "the flange width"
    else:
        text = "the header gives a flat no thickness: lines 11 to 13 hold none"
        book.refuse("nc-section", text, header.lines[_LINE_WEB])
        return None
    text = f"the web thickness is 0; {thickness:g} mm was taken from {source}"
    book.warn("nc-thickness", text, header.lines[_LINE_WEB])
    return header.height, thickness


def _angle(
    header: Header, sizes: tuple[float, ...], named: list[Angle | Flat], book: Book
) -> Angle:
    leg_a, leg_b, thickness = sizes
    exact = next(
        (
            s
            for s in named
            if isinstance(s, Angle)
            and _fits((s.leg_a_mm, s.leg_b_mm, s.thickness_mm), sizes, ROUNDED_MM)
        ),
        None,
    )
    row = nearest(leg_a, leg_b, thickness, within_mm=ROUNDED_MM)
    if row is not None:
        exact = row.section(short_leg_first=leg_a < leg_b)
    if exact is not None:
        leg_a, leg_b, thickness = exact.leg_a_mm, exact.leg_b_mm, exact.thickness_mm
    root, toe = _radii(header, (leg_a, leg_b, thickness), book)
    return Angle(
        designation=_name(header, named, exact),
        leg_a_mm=leg_a,
        leg_b_mm=leg_b,
        thickness_mm=thickness,
        root_radius_mm=root,
        toe_radius_mm=toe,
    )


def _name(header: Header, named: list[Angle | Flat], listed: Angle | None) -> str | None:
    """Return the table's name of the sizes, unless the file's own name says other sizes.

    A name that contradicts the figures must reach the rule that compares them.
    """
    angles = [s for s in named if isinstance(s, Angle)]
    if listed is None or (angles and not any(_same_sizes(s, listed) for s in angles)):
        return _kept_name(header, named)
    return listed.designation


def _same_sizes(one: Angle, other: Angle) -> bool:
    legs = sorted((one.leg_a_mm, one.leg_b_mm)), sorted((other.leg_a_mm, other.leg_b_mm))
    pairs = (*zip(*legs, strict=True), (one.thickness_mm, other.thickness_mm))
    return all(abs(p - q) <= NAMED_MM for p, q in pairs)


def _kept_name(header: Header, named: list[Angle | Flat]) -> str | None:
    """Return the name to keep: as the tables spell it, else as the file writes it."""
    closest = min(named, key=lambda s: abs(s.thickness_mm - header.web_thickness), default=None)
    return closest.designation if closest is not None else header.designation


def _radii(header: Header, sizes: tuple[float, ...], book: Book) -> tuple[float, float]:
    """Return root and toe radius: the header's root, the table's toe of a listed size."""
    row = by_sizes(*sizes)
    at = header.lines[_LINE_RADIUS]
    root = on_grid(header.radius)
    if row is None:
        toe = on_grid(min(root / 2, sizes[2]))
        if root > 0.0:
            text = f"the size is not listed; its toe radius was taken as {toe:g} mm, half its root"
            book.note("nc-radius", text, at)
        return root, toe
    if root == 0.0:
        text = f"the radius is 0; {row.root_radius_mm:g} mm was taken from {row.standard}"
        book.note("nc-radius", text, at)
        return row.root_radius_mm, row.toe_radius_mm
    if abs(root - row.root_radius_mm) <= _DIFFERS_MM:
        return row.root_radius_mm, row.toe_radius_mm
    text = f"the root radius is {root:g} mm, that of {row.designation} {row.root_radius_mm:g} mm"
    book.note("nc-radius", text, at)
    return root, row.toe_radius_mm


def _flat(header: Header, sizes: tuple[float, ...], named: list[Angle | Flat]) -> Flat:
    for section in named:
        if isinstance(section, Flat) and _fits(
            (section.width_mm, section.thickness_mm), sizes, ROUNDED_MM
        ):
            return section
    return Flat(designation=_kept_name(header, named), width_mm=sizes[0], thickness_mm=sizes[1])


def _say_name(header: Header, section: Angle | Flat, named: list[Angle | Flat], book: Book) -> None:
    """Say when the designation could not be read or has other leg sizes in front."""
    at = header.lines.get(_LINE_NAME, header.lines[_LINE_HEIGHT])
    if header.designation is None:
        book.note("nc-designation", "the designation is missing; the sizes were used", at)
    elif not named:
        fault = next((r.fault for r in _readings(header.designation) if r.fault), "")
        text = f"the designation was kept but not understood: {fault}".rstrip(".")
        book.warn("nc-designation", text, at)
    elif isinstance(section, Angle) and all(
        isinstance(s, Angle) and s.leg_a_mm != s.leg_b_mm and _is_swapped(s, section) for s in named
    ):
        text = (
            f"designation {header.designation} names the other leg first; leg a is the one in"
            f" view v, {section.leg_a_mm:g} mm, by the header's sizes"
        )
        book.note("nc-designation", text, at)


def _is_swapped(named: Angle, section: Angle) -> bool:
    sizes = (section.leg_b_mm, section.leg_a_mm)
    return _fits((named.leg_a_mm, named.leg_b_mm), sizes, _DIFFERS_MM)
