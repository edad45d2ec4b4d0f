"""The text of a part: what holds for the file first, then the part itself."""

import re
from typing import Final

from translator.emitters.part_text._features import Style, feature_lines, id_word
from translator.emitters.part_text._phrases import degrees_text, line
from translator.emitters.part_text._trims import trim_lines
from translator.lengths.parse import INCH, INCHES_PER_FOOT, Unit
from translator.lengths.spell import feet_inch_text, length_text, mm_text
from translator.model import (
    AngleEnds,
    Flat,
    Leg,
    LegName,
    Part,
    Section,
    Stated,
    Waiver,
    leg_names,
    leg_of,
)
from translator.syntax.limits import FREE_FEATURES
from translator.syntax.quoting import bare_text, mark_text, quoted
from translator.tables.designations import parse_section

_DEPTH: Final = 1
_CLAUSES_OF_WAIVERS: Final = frozenset({"on", "at", "by", "until"})
_PLAIN_SECTION: Final = re.compile(r"[A-Z]{1,3}[0-9][0-9x./-]*")


def part_text(part: Part) -> str:
    """Return the canonical text of a part, lines ended by a line feed."""
    title = "" if part.title is None else f" {quoted(part.title)}"
    lines = [*_file_lines(part), "", f"part {mark_text(part.mark)}{title} {{"]
    lines += line(_DEPTH, _section(part.section, part.units))
    lines += line(_DEPTH, [f"length {_length(part)}"])
    lines += line(_DEPTH, [f"quantity {part.quantity}"])
    lines += _said_lines(part)
    if part.stated is not None:
        lines += line(_DEPTH, _stated(part.stated, part.units))
    for phrases in _mitres(part):
        lines += line(_DEPTH, phrases)
    legs = {name: leg_of(part, name) for name in leg_names(part)}
    features = sum(len(leg.features) for leg in legs.values())
    style = Style(units=part.units, together=features <= FREE_FEATURES)
    for name, leg in legs.items():
        lines += _leg_lines(leg, name, style)
    for waiver in part.waivers:
        lines += line(_DEPTH, _waiver(waiver, part.units))
    for raw in part.carried:
        lines += line(_DEPTH, [f"carried {quoted(raw)}"])
    return "\n".join([*lines, "}", ""])


def _length(part: Part) -> str:
    """Return the part's length, in feet and inches where a drawing has them."""
    feet = feet_inch_text(part.length_mm) if part.units == "inch" else None
    is_long = part.length_mm >= INCHES_PER_FOOT * INCH
    return feet if feet is not None and is_long else length_text(part.length_mm, part.units)


def _file_lines(part: Part) -> list[str]:
    lines = [f"units {part.units}"]
    told = {"order": part.order, "drawing": part.drawing, "revision": part.revision}
    phrases = [f"{name} {quoted(text)}" for name, text in told.items() if text is not None]
    if phrases:
        lines += line(0, phrases)
    if part.grade is not None:
        lines += line(0, [f"grade {bare_text(part.grade)}"])
    return lines


def _said_lines(part: Part) -> list[str]:
    told = {"phase": part.phase, "lot": part.lot, "finish": part.finish}
    phrases = [f"{name} {quoted(text)}" for name, text in told.items() if text is not None]
    phrases += [f"remark {quoted(text)}" for text in part.remarks]
    phrases += [f"second work {quoted(text)}" for text in part.second_work]
    return [text for phrase in phrases for text in line(_DEPTH, [phrase])]


def _section(section: Section, units: Unit) -> list[str]:
    """Return the section by its name if that says all of it, else by its sizes."""
    name = section.designation
    if name and parse_section(name, units).section == section:
        return [f"section {name if _PLAIN_SECTION.fullmatch(name) else quoted(name)}"]
    if isinstance(section, Flat):
        sizes = {"flat width": section.width_mm, "thickness": section.thickness_mm}
    else:
        sizes = {
            "angle leg a": section.leg_a_mm,
            "leg b": section.leg_b_mm,
            "thickness": section.thickness_mm,
            "root": section.root_radius_mm,
            "toe": section.toe_radius_mm,
        }
    # The sizes stay on one line: only there does the reader look for them.
    told = " ".join(f"{word} {length_text(mm, units)}" for word, mm in sizes.items() if mm)
    called = [] if name is None else [f"called {quoted(name)}"]
    return [f"section {told}", *called]


def _stated(stated: Stated, units: Unit) -> list[str]:
    phrases = ["stated"]
    if stated.mass_per_metre_kg is not None:
        phrases.append(f"mass {mm_text(stated.mass_per_metre_kg)}kg/m")
    if stated.paint_area_per_metre_m2 is not None:
        phrases.append(f"paint {mm_text(stated.paint_area_per_metre_m2)}m2/m")
    if stated.saw_length_mm is not None:
        phrases.append(f"saw length {length_text(stated.saw_length_mm, units)}")
    return phrases


def _mitres(part: Part) -> list[list[str]]:
    ends = part.ends
    if isinstance(ends, AngleEnds):
        cuts = [
            (end, angle, f"{'toe' if angle > 0 else 'heel'} of leg {leg}")
            for end, cut in (("start", ends.start), ("far", ends.far))
            for leg, angle in (("a", cut.leg_a_deg), ("b", cut.leg_b_deg))
        ]
    else:
        cuts = [
            (end, cut.face_deg, f"{'upper' if cut.face_deg > 0 else 'lower'} edge")
            for end, cut in (("start", ends.start), ("far", ends.far))
        ]
    return [
        [f"mitre {end} {degrees_text(abs(angle))} from square,", f"long at {place}"]
        for end, angle, place in cuts
        if angle
    ]


def _leg_lines(leg: Leg, name: LegName, style: Style) -> list[str]:
    inner = [*trim_lines(leg.trims, style.units), *feature_lines(leg, name, style)]
    if not inner:
        return []
    head = "face" if name == "face" else f"leg {name}"
    return [*line(_DEPTH, [f"{head} {{"]), *inner, *line(_DEPTH, ["}"])]


def _waiver(waiver: Waiver, units: Unit) -> list[str]:
    rule = quoted(waiver.rule) if waiver.rule in _CLAUSES_OF_WAIVERS else waiver.rule
    phrases = [f"waive {rule}"]
    place = [] if waiver.leg is None else ["face" if waiver.leg == "face" else f"leg {waiver.leg}"]
    if waiver.feature is not None:
        place.append(id_word(waiver.feature))
    if place:
        phrases.append(f"on {' '.join(place)}")
    if waiver.value is not None:
        phrases.append(f"at {length_text(waiver.value, units)}")
    phrases.append(quoted(waiver.reason))
    if waiver.by is not None:
        phrases.append(f"by {quoted(waiver.by)}")
    if waiver.until_revision is not None:
        phrases.append(f"until revision {quoted(waiver.until_revision)}")
    if waiver.until_date is not None:
        phrases.append(f"until {waiver.until_date}")
    return phrases
