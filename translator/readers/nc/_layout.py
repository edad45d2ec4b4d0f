"""Records to a layout: every feature and contour on its leg, under one reading."""

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from msgspec import Struct

from translator.conventions import Conventions
from translator.lengths.grid import text_direction
from translator.model import Angle, LegName
from translator.readers.nc._arcs import Corner
from translator.readers.nc._items import Item, Layout, Outline, Remarks, merged, same_ring
from translator.readers.nc._records import (
    ContourRecord,
    HoleRecord,
    Records,
    StampRecord,
)
from translator.readers.nc._rings import box_of, close, ring_of, round_of, run_of, turned_left
from translator.readers.nc._slots import SlotError, shape_of, slot_item
from translator.readers.nc._views import Frame, frame_of

_SNAP_MM: Final = 0.05
"""A contour given to 0.01 mm, or of a rolled size, meets the header's sizes within this."""

_ROUNDED_MM: Final = 0.0055
_THROUGH_MM: Final = 0.01


def lay(records: Records, reading: Conventions) -> Layout:
    """Lay a piece out under one reading: no setting that it depends on is "auto"."""
    work = _Work(records=records, reading=reading, remarks=Remarks())
    outlines = work.outlines()
    items = merged(sorted(work.items(), key=lambda item: item.line), work.remarks)
    return Layout(
        items=items,
        outlines=outlines,
        cuts=work.cuts(frozenset(outlines)),
        remarks=tuple(work.remarks.items),
        kept=frozenset(work.remarks.kept),
    )


class _Work(Struct, frozen=True, kw_only=True):
    records: Records
    reading: Conventions
    remarks: Remarks

    def _frame(self, view: str, line: int) -> Frame | None:
        frame = frame_of(view, self.records.section, self.reading)
        if frame is None:
            text = (
                f"view {view} of a flat is its narrow edge; nothing can be made there, and which"
                " face is meant cannot be told"
            )
            self.remarks.refuse("nc-view-edge", text, line)
        return frame

    def items(self) -> list[Item]:
        """Return all features, in no order."""
        found = [self._hole(hole) for hole in self.records.holes]
        found += [self._stamp(stamp) for stamp in self.records.stamps]
        found += [self._opening(contour) for contour in self.records.inners]
        found += [self._line(contour) for contour in self.records.lines]
        return [item for item in found if item is not None]

    def _hole(self, hole: HoleRecord) -> Item | None:
        frame = self._frame(hole.view, hole.line)
        if frame is None or not self._is_makeable(hole, frame):
            return None
        depth = self._depth(hole)
        if hole.is_slot:
            return self._slot(hole, frame, depth)
        x, y = hole.x, frame.across(hole.ref, hole.y)
        if hole.kind == "mark":
            return Item(leg=frame.leg, line=hole.line, kind="mark", numbers=(x, y))
        if hole.kind == "countersink":
            return Item(leg=frame.leg, line=hole.line, kind="sink", numbers=(x, y, hole.diameter))
        thread = hole.kind.removeprefix("tapped-") if hole.kind != "plain" else ""
        if thread:
            text = "tapped holes have the size as written; whether thread or drill is not said"
            self.remarks.note("nc-thread-size", text, hole.line)
        numbers = (x, y, hole.diameter, depth, 0.0)
        return Item(leg=frame.leg, line=hole.line, kind="hole", numbers=numbers, words=(thread,))

    def _is_makeable(self, hole: HoleRecord, frame: Frame) -> bool:
        """Refuse what is made from an inner face and does not go through."""
        if not frame.is_inner:
            return True
        if hole.kind == "mark":
            text = f"view {hole.view} shows an inner face, and marks can only be made outside"
            self.remarks.keep("nc-inner-face", text, hole.line)
            return False
        if hole.kind == "countersink" or self._depth(hole):
            what = "countersunk" if hole.kind == "countersink" else "blind"
            text = (
                f"the {what} hole at x {hole.x:.2f} is made from the inner face (view {hole.view});"
                " only outer faces can be worked"
            )
            self.remarks.refuse("nc-inner-face", text, hole.line)
            return False
        return True

    def _depth(self, hole: HoleRecord) -> float:
        """Return the depth, 0 when the hole goes through."""
        thickness = self.records.section.thickness_mm
        return hole.depth if 0.0 < hole.depth < thickness - _THROUGH_MM else 0.0

    def _slot(self, hole: HoleRecord, frame: Frame, depth: float) -> Item | None:
        try:
            shape = shape_of(hole, frame, self.reading)
        except SlotError as error:
            self.remarks.refuse("nc-slot", str(error), hole.line)
            return None
        item = slot_item(hole, frame, shape, depth)
        if item.kind == "opening" and depth:
            text = f"a cut-out of depth {depth:g} mm does not go through; it cannot be translated"
            self.remarks.refuse("nc-slot", text, hole.line)
            return None
        return item._replace(ring=turned_left(item.ring)) if item.ring else item

    def _stamp(self, stamp: StampRecord) -> Item | None:
        """Lay the letters: from their lower left in the view to their edge nearest the heel."""
        frame = frame_of(stamp.view, self.records.section, self.reading)
        if frame is None or frame.is_inner:
            text = f"letters can only be stamped on outer faces, and view {stamp.view} is none"
            self.remarks.keep("nc-inner-face", text, stamp.line)
            return None
        x, y, angle = stamp.x, frame.across(stamp.ref, stamp.y), stamp.angle
        if frame.is_flipped:
            turn = math.radians(angle)
            x -= stamp.height * math.sin(turn)
            y -= stamp.height * math.cos(turn)
            angle = -angle
        numbers = (x, y, stamp.height, text_direction(angle))
        words = (stamp.text, "r" if stamp.may_move else "")
        return Item(leg=frame.leg, line=stamp.line, kind="stamp", numbers=numbers, words=words)

    def _opening(self, contour: ContourRecord) -> Item | None:
        frame = self._frame(contour.view, contour.line)
        if frame is None:
            return None
        run = close(run_of(contour, frame, self.remarks), contour, self.remarks)
        if not run.is_closed:
            return None
        ring = turned_left(ring_of(run, frame, self.reading.arc_sign, self.remarks))
        circle = round_of(ring)
        if circle is None:
            return Item(leg=frame.leg, line=contour.line, kind="opening", ring=ring)
        x, y, radius = circle
        text = f"the inner contour is a circle; it was read as a hole of {2 * radius:.2f} mm"
        self.remarks.note("nc-contour-round", text, contour.line)
        numbers = (x, y, round(2 * radius, 2), 0.0, 0.0)
        return Item(leg=frame.leg, line=contour.line, kind="hole", numbers=numbers, words=("",))

    def _line(self, contour: ContourRecord) -> Item | None:
        """Lay a layout line; a single punched point is a centre mark."""
        frame = frame_of(contour.view, self.records.section, self.reading)
        if frame is None or frame.is_inner:
            text = f"lines can only be marked on outer faces, and view {contour.view} is none"
            for point in contour.points:
                self.remarks.keep("nc-inner-face", text, point.line)
            return None
        run = run_of(contour, frame, self.remarks)
        if len(run.points) == 1:
            if contour.code == "KO":
                text = "single punched points were read as centre marks"
                self.remarks.note("nc-point-single", text, contour.line)
                return Item(leg=frame.leg, line=contour.line, kind="mark", numbers=run.points[0])
            self.remarks.keep("nc-point-single", "a single point makes no line", contour.line)
            return None
        ring = ring_of(run, frame, self.reading.arc_sign, self.remarks)
        words = ("powder" if contour.code == "PU" else "punch", "closed" if run.is_closed else "")
        return Item(leg=frame.leg, line=contour.line, kind="scribe", words=words, ring=ring)

    def outlines(self) -> dict[LegName, Outline]:
        """Return the outer contours by leg; two different ones of a leg are an error."""
        found: dict[LegName, Outline] = {}
        for contour in self.records.outers:
            frame = self._frame(contour.view, contour.line)
            if frame is None:
                continue
            run = close(run_of(contour, frame, self.remarks), contour, self.remarks)
            if not run.is_closed:
                continue
            ring = ring_of(run, frame, self.reading.arc_sign, self.remarks)
            outline = Outline(line=contour.line, ring=self._snapped(turned_left(ring), frame))
            first = found.setdefault(frame.leg, outline)
            if first is not outline:
                self._say_second(first, outline, frame.leg)
        return found

    def _snapped(self, ring: tuple[Corner, ...], frame: Frame) -> tuple[Corner, ...]:
        """Bring the outermost corners onto the header's sizes when they are near."""
        left, low, right, high = box_of(ring)
        xs = [_Pull(left, 0.0), _Pull(right, self.records.length)]
        ys = [_Pull(low, 0.0), _Pull(high, frame.width)]
        return tuple(c._replace(x=_pulled(c.x, xs), y=_pulled(c.y, ys)) for c in ring)

    def _say_second(self, first: Outline, second: Outline, leg: LegName) -> None:
        if same_ring(first.ring, second.ring):
            text = f"the outer contour of leg {leg} is given twice; it was taken once"
            self.remarks.warn("nc-duplicate", text, second.line)
            return
        text = (
            f"leg {leg} has two outer contours that differ (the other begins in line {first.line})"
        )
        self.remarks.refuse("nc-contour-twice", text, second.line)

    def cuts(self, with_contour: frozenset[LegName]) -> dict[tuple[str, LegName], float]:
        """Return the header's cut angles of legs without a contour, positive = long at the toe.

        A positive angle turns the trace from the square to the left or to the right, as
        mitre_sign says; turned to the left, its upper end lies nearer the start.
        """
        cuts = self.records.header.cuts
        is_angle = isinstance(self.records.section, Angle)
        sign = 1.0 if self.reading.mitre_sign == "plus-left" else -1.0
        first: LegName = "a" if is_angle else "face"
        found: dict[tuple[str, LegName], float] = {}
        if first not in with_contour:
            found["start", first] = sign * cuts.web_start
            found["far", first] = -sign * cuts.web_end
        if is_angle and "b" not in with_contour:
            toe_up = self.reading.u_view_bottom == "heel" or self.reading.flange_cut_view == "o"
            upwards = sign if toe_up else -sign
            found["start", "b"] = upwards * cuts.flange_start
            found["far", "b"] = -upwards * cuts.flange_end
        return {key: value + 0.0 for key, value in found.items() if value}


class _Pull(NamedTuple):
    """The outermost place of a contour, and the edge that it should reach."""

    reached: float
    edge: float


def _pulled(value: float, pulls: Sequence[_Pull]) -> float:
    """Move a place that is the outermost, within rounding, onto the edge it should reach."""
    for pull in pulls:
        off = abs(pull.reached - pull.edge)
        outermost = pull.edge if off <= 2 * _ROUNDED_MM else pull.reached
        if off <= _SNAP_MM and abs(value - outermost) <= _ROUNDED_MM:
            return pull.edge
    return value
