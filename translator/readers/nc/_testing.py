"""Tests that speak for one value of an open convention: holes and reference letters.

Each test looks at one piece and yields what it sees. Proof is what cannot be otherwise in a
sound part; near-proof is what would be possible but rare; a hint is a habit of the trade.
"""

from collections.abc import Callable, Iterable
from typing import Final

from translator.conventions import Weight
from translator.geometry.contours import Contour, contains, distance
from translator.model import Angle, leg_width
from translator.readers.nc._contour_tests import CONTOUR_TESTS, outline_of
from translator.readers.nc._records import HoleRecord, Records
from translator.readers.nc._seen import Seen
from translator.tables.gauges import is_usual_gauge

_SLACK_MM: Final = 0.05
_PAST_MIDDLE_MM: Final = 0.1
_BELOW_MM: Final = -0.005
_GAUGES: Final = ("us", "eu")
_MOST_SLOTS: Final = 100


def _width(records: Records, view: str) -> float:
    if not isinstance(records.section, Angle):
        return records.section.width_mm
    return leg_width(records.section, "a" if view in ("v", "h") else "b")


def _round_holes(records: Records) -> Iterable[HoleRecord]:
    """Yield what goes through one leg with a known place across: holes, and level slots."""
    for hole in records.holes:
        is_level = not hole.is_slot or (hole.height == 0.0 and hole.angle == 0.0)
        if hole.kind != "mark" and hole.depth == 0.0 and is_level:
            yield hole


def _seen(setting: str, value: str, weight: Weight, message: str, line: int) -> Seen:
    return Seen(setting=setting, value=value, weight=weight, message=message, line=line)


def axis_letters(records: Records) -> Iterable[Seen]:
    """Places below 0 or beyond mid-width behind the letter s."""
    places = [(h.view, h.ref, h.y, h.line) for h in records.holes]
    for contour in (*records.outers, *records.inners):
        places += [(contour.view, p.ref, p.y, p.line) for p in contour.points]
    for view, ref, y, line in places:
        if ref != "s":
            continue
        if y < _BELOW_MM:
            text = f"y is {y:.2f} behind the letter s, below the view's lower edge"
            yield _seen("y_datum", "named-edge", Weight.PROOF, text, line)
        elif y > _width(records, view) / 2 + _PAST_MIDDLE_MM:
            text = f"y is {y:.2f} behind the letter s, more than half of {_width(records, view):g}"
            yield _seen("y_datum", "view-bottom", Weight.PROOF, text, line)


def edges_by_letter(records: Records) -> Iterable[Seen]:
    """A hole that one datum reading lets break an edge or the heel, and the other does not."""
    for hole in _round_holes(records):
        if hole.ref == "u":
            continue
        width = _width(records, hole.view)
        ways = {
            "named-edge": width - hole.y if hole.ref == "o" else width / 2 + hole.y,
            "view-bottom": hole.y,
        }
        contour = outline_of(records, hole.view)
        sound = [
            value
            for value, up in ways.items()
            if _is_inside(records, hole, up, width) and _keeps_off(contour, hole, up)
        ]
        if len(sound) == 1:
            text = (
                f"the hole of {hole.diameter:g} behind the letter {hole.ref} would break an edge,"
                " a cut or the heel under the other reading"
            )
            yield _seen("y_datum", sound[0], Weight.PROOF, text, hole.line)


def _is_inside(records: Records, hole: HoleRecord, up: float, width: float) -> bool:
    """Tell whether a hole keeps clear of both edges and, in view v, of the other leg."""
    half = hole.diameter / 2
    low = half
    if isinstance(records.section, Angle) and hole.view == "v":
        low += records.section.thickness_mm
    return low - _SLACK_MM <= up <= width - half + _SLACK_MM


def _keeps_off(contour: Contour, hole: HoleRecord, up: float) -> bool:
    """Tell whether a hole lies within the outer contour of its view, if it has one."""
    if not contour:
        return True
    reach = distance(contour, hole.x, up)
    return contains(contour, hole.x, up) and reach >= hole.diameter / 2 - _SLACK_MM


def heel_clearance(records: Records) -> Iterable[Seen]:
    """A hole of view u or h that runs into the other leg under one reading only."""
    if not isinstance(records.section, Angle):
        return
    settings = {"u": ("u_view_bottom", "heel", "toe"), "h": ("h_view", "upright", "rolled")}
    for hole in _round_holes(records):
        if hole.view not in settings or hole.ref != "u":
            continue
        setting, upright, flipped = settings[hole.view]
        width = _width(records, hole.view)
        least = records.section.thickness_mm + hole.diameter / 2 - _SLACK_MM
        for near, value in ((hole.y, flipped), (width - hole.y, upright)):
            if hole.diameter / 2 < near < least <= width - near:
                # A designer's slip is a hole a little too near the heel, and one slip must not
                # turn a whole delivery over: proof is only a hole that lies deep in the other
                # leg and that has, at the toe, the edge distance of a sound part.
                is_deep = near < records.section.thickness_mm + hole.diameter / 4
                is_sound = is_deep and near >= hole.diameter
                text = (
                    f"the hole of {hole.diameter:g} at y {hole.y:g} would stand {near:g} from the"
                    f" heel, nearer than thickness and half its diameter, unless {value}"
                )
                weight = Weight.PROOF if is_sound else Weight.NEAR_PROOF
                yield _seen(setting, value, weight, text, hole.line)


def twins_in_back(records: Records) -> Iterable[Seen]:
    """A hole given in v and again in h: the same place under one reading only."""
    fronts = {(round(h.x, 1), round(h.diameter, 1), round(h.y, 1)) for h in _fronts(records)}
    for hole in _round_holes(records):
        if hole.view != "h" or hole.ref != "u":
            continue
        width = _width(records, "h")
        key = (round(hole.x, 1), round(hole.diameter, 1))
        upright = (*key, round(hole.y, 1)) in fronts
        rolled = (*key, round(width - hole.y, 1)) in fronts
        if upright != rolled:
            value = "upright" if upright else "rolled"
            text = "the hole is also given in view v, at the same place under this reading only"
            yield _seen("h_view", value, Weight.NEAR_PROOF, text, hole.line)


def _fronts(records: Records) -> Iterable[HoleRecord]:
    return (h for h in _round_holes(records) if h.view == "v" and h.ref == "u")


def usual_lines(records: Records) -> Iterable[Seen]:
    """Gauges of view u that are usual, or those of view v, under one reading only."""
    if not isinstance(records.section, Angle):
        return
    width = records.section.leg_b_mm
    holes = [h for h in _round_holes(records) if h.view == "u" and h.ref == "u"]
    lines = {round(h.y, 2): h.line for h in holes}
    is_equal = records.section.leg_a_mm == width
    others = {round(h.y, 1) for h in _fronts(records)} if is_equal else set()
    for y, line in lines.items():
        heel, toe = (_is_usual(width, gauge) for gauge in (y, width - y))
        if heel != toe:
            text = f"y {y:g} is a usual gauge of the leg under this reading only"
            value = "heel" if heel else "toe"
            yield _seen("u_view_bottom", value, Weight.HINT, text, line)
        heel, toe = (round(gauge, 1) in others for gauge in (y, width - y))
        if heel != toe:
            text = f"y {y:g} is the gauge of view v under this reading only"
            value = "heel" if heel else "toe"
            yield _seen("u_view_bottom", value, Weight.HINT, text, line)


def _is_usual(width: float, gauge: float) -> bool:
    return any(is_usual_gauge(width, gauge, practice) for practice in _GAUGES)


def slots(records: Records) -> Iterable[Seen]:
    """Sizes and places of slots that fit one way of giving them only."""
    found = [h for h in records.holes if h.is_slot][:_MOST_SLOTS]
    columns = {(h.view, round(h.x, 1)) for h in records.holes if not h.is_slot}
    for slot in found:
        sizes = [size for size in (slot.width, slot.height) if size]
        if min(sizes) <= slot.diameter:
            text = (
                f"slot size {min(sizes):g} is not more than the diameter {slot.diameter:g}, so it"
                " cannot be overall"
            )
            yield _seen("slot_length", "centres", Weight.PROOF, text, slot.line)
        if slot.height or slot.angle:
            continue
        first = (slot.view, round(slot.x, 1)) in columns
        middle = (slot.view, round(slot.x + slot.width / 2, 1)) in columns
        if first != middle:
            value = "middle" if first else "first-centre"
            text = "the slot's middle stands over a hole of the pattern under this reading only"
            yield _seen("slot_reference", value, Weight.HINT, text, slot.line)


ALL_TESTS: Final[tuple[Callable[[Records], Iterable[Seen]], ...]] = (
    axis_letters,
    edges_by_letter,
    heel_clearance,
    twins_in_back,
    usual_lines,
    slots,
    *CONTOUR_TESTS,
)
"""Every test, in the order in which they are run."""
