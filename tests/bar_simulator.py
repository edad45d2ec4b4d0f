"""Replay a bar program on a blank bar, and hold what comes off against the parts.

Written from schemas/program.schema.json and the machine profile alone: it takes the two JSON
documents, trusts nothing that it can find out from the profile itself (tools, their places and
sizes, reach, swings, travel), and shares no code with translator/bars or translator/machines.
The bar is two polygons, what lies on the left and on the right side of the machine, in (s, g):
s along the bar from its lead end, g across from the heel. The hand comes from a solid: see
``side_axes``.
"""

import math

from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from translator.geometry.contours import flatten
from translator.geometry.outline import leg_outline
from translator.model import (
    AngleEnds,
    CentreMark,
    FlatEnds,
    Hole,
    Slot,
    Stamp,
    leg_names,
    leg_of,
    leg_width,
)

SAME = 2e-5
FACETS = 32
FAR = 1e6


def capsule(p, q, radius):
    """A round-ended slot from p to q as a polygon; a disc where they are one point."""
    turn = math.atan2(q[1] - p[1], q[0] - p[0]) if p != q else 0.0
    ring = [
        (c[0] + radius * math.cos(a), c[1] + radius * math.sin(a))
        for c, start in ((q, turn - math.pi / 2), (p, turn + math.pi / 2))
        for a in (start + math.pi * i / FACETS for i in range(FACETS + 1))
    ]
    return Polygon(ring).buffer(0)


def oblong(middle, angle_deg, width, length):
    half = (length - width) / 2
    dx, dy = half * math.cos(math.radians(angle_deg)), half * math.sin(math.radians(angle_deg))
    x, y = middle
    return capsule((x - dx, y - dy), (x + dx, y + dy), width / 2)


# --- the hand, from a solid -----------------------------------------------------------------


def cross(u, v):
    return (
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
    )


def times(k, u):
    return tuple(k * c for c in u)


def dot(u, v):
    return sum(a * b for a, b in zip(u, v, strict=True))


TRAVEL = (1.0, 0.0, 0.0)


def side_axes(side, heel):
    """Heel to toe, and outwards, of what lies on a side: looking along TRAVEL, left is +y.

    With the heel down both legs rise from it, with the heel up both hang; they are square to
    each other, and each outer face looks away from the other leg.
    """
    rise = 1.0 if heel == "down" else -1.0
    r = math.sqrt(0.5)
    left, right = (0.0, r, rise * r), (0.0, -r, rise * r)
    toe, other = (left, right) if side == "left" else (right, left)
    return toe, times(-1.0, other)


def way_of(part, piece, machine):
    """Return leg -> (side, along, across): +-1 where x runs with the travel, y from the heel.

    A part is turned, never mirrored: its x, heel-to-toe and outward directions are right-handed
    on leg a and on a flat (Z = outwards), left-handed on leg b.
    """
    lie = piece["placement"]
    along = -1.0 if lie["lead_end"] == "start" else 1.0
    other = {"left": "right", "right": "left"}[lie["leg_a"]]
    if leg_names(part) == ("face",):
        side = machine["flats"].get("side", "left")
        toe, outward = side_axes(side, lie.get("heel", "down"))
        hand = dot(cross(times(along, TRAVEL), toe), outward)
        return {"face": (side, along, round(hand))}
    out = {"a": (lie["leg_a"], along, 1), "b": (other, along, 1)}
    for leg, (side, _, _) in out.items():
        toe, outward = side_axes(side, lie.get("heel", "down"))
        hand = dot(cross(times(along, TRAVEL), toe), outward)
        if round(hand) != (1 if leg == "a" else -1):
            raise AssertionError(f"the placement {lie} is a mirror image")
    return out


# --- the machine ----------------------------------------------------------------------------


def in_range(mm, limits):
    most = limits.get("most_mm")
    return mm >= limits.get("least_mm", 0.0) - 0.006 and (most is None or mm <= most + 0.006)


class Bar:
    """A bar in the machine while its program is replayed; ``faults`` says what went wrong."""

    def __init__(self, document, machine):
        self.program = document["program"]
        self.machine = machine
        self.length = self.program.get("measured_mm", self.program["length_mm"])
        self.widths = {
            side: self.program[f"{side}_leg_mm"]
            for side in ("left", "right")
            if f"{side}_leg_mm" in self.program
        }
        self.steel = {side: box(0.0, 0.0, self.length, w) for side, w in self.widths.items()}
        self.front = 0.0
        self.feed = None
        self.jaw = None
        self.fetched = set()
        self.pieces = {}
        self.marks, self.blind, self.stamps = [], [], []
        self.nibbled = set()
        self.cut_to = None
        self.expected_measure = None
        self.measured = set()
        self.stops = 0
        self.unloaded = False
        self.faults = []

    def check(self, holds, words):
        if not holds:
            self.faults.append(words)

    # the carriage

    @property
    def grip(self):
        return self.machine.get("grip")

    def stand(self, feed, carriage_mm):
        """The bar stands at a feed: the carriage must be within its travel and say so."""
        self.feed = feed
        grip = self.grip
        if grip is None or "travel_mm" not in grip:
            self.check(carriage_mm is None, "a carriage position without a travel")
            return
        if self.jaw is None:
            self.faults.append(f"the bar moves to {feed:.3f} and nothing holds it")
            return
        fore = self.foremost()
        at = feed - self.jaw
        self.check(
            fore - grip["travel_mm"] - SAME <= at <= fore + SAME,
            f"carriage beyond its travel at feed {feed:.3f}: jaw at {at:.3f}",
        )
        self.check(
            carriage_mm is not None
            and abs(carriage_mm - (at - (fore - grip["travel_mm"]))) <= SAME,
            f"carriage position {carriage_mm} is not where the jaw is at feed {feed:.3f}",
        )

    def foremost(self):
        if "foremost_x_mm" in self.grip:
            return self.grip["foremost_x_mm"]
        places = [s.get("x_mm", 0.0) for s in self.machine.get("stations", [])]
        units = [self.machine.get(unit) for unit in ("marker", "cut_off")]
        places += [unit.get("x_mm", 0.0) for unit in units if unit]
        return max(places) - self.clear()

    def clear(self):
        return max(self.grip.get("tail_mm", 0.0) - self.grip.get("jaw_length_mm", 0.0), 0.0)

    def held_at(self, s, reach, words):
        """Something is worked at s, reaching to ``reach``: the jaw must be behind it."""
        if self.grip is None:
            return
        if self.jaw is None:
            self.faults.append(f"{words}: nothing holds the bar")
            return
        self.check(
            s + self.clear() <= self.jaw + SAME and reach <= self.jaw + SAME,
            f"{words} at {s:.3f} lies in the dead end: the jaw holds from {self.jaw:.3f}",
        )

    def do_grip(self, step):
        grip = self.grip
        self.check(grip is not None, "a grip without a carriage")
        if grip is None:
            return
        low, high = step["from_mm"], step["to_mm"]
        self.check(step["is_regrip"] == (self.jaw is not None), "first grip or regrip, not as said")
        self.check(
            abs(high - low - grip.get("jaw_length_mm", 0.0)) <= SAME, "the jaw has another length"
        )
        self.check(
            low >= self.front - SAME and high <= self.length + SAME,
            f"the jaw takes {low:.3f} to {high:.3f}, the bar is there from {self.front:.3f} to"
            f" {self.length:.3f}",
        )
        if step["is_regrip"]:
            self.check(grip.get("can_regrip", False), "the carriage can't regrip")
            self.check(abs(step["feed_mm"] - self.feed) <= SAME, "the bar moved while let go")
            clamp = grip.get("clamp_x_mm")
            if clamp is not None:
                under = step["feed_mm"] - clamp
                self.check(
                    self.front < under < self.length and not low <= under <= high,
                    f"the clamp at {clamp} does not hold the bar during the regrip",
                )
        elif not grip.get("can_regrip", False):
            self.check(abs(high - self.length) <= SAME, "it does not hold the trailing end")
        for side in self.widths:
            if grip.get("side", "both") in (side, "both"):
                self.check(self.closes_on_steel(side, low, high), "the jaw closes on a hole")
        self.jaw = low
        self.stand(step["feed_mm"], step.get("carriage_mm"))

    def closes_on_steel(self, side, low, high):
        zone = self.grip.get("from_heel", {})
        top = min(zone.get("most_mm") or self.widths[side], self.widths[side])
        held = box(low, zone.get("least_mm", 0.0), high, top)
        gone = held.difference(self.steel[side]).area
        whole = box(self.front, 0.0, self.length, self.widths[side])
        return gone <= 1e-3 or (
            self.grip.get("over_holes", True) and held.difference(whole).area <= 1e-3
        )

    # tools

    def station(self, name):
        found = [s for s in self.machine.get("stations", []) if s["name"] == name]
        self.check(len(found) == 1, f"no station {name}")
        return found[0] if found else None

    def do_change(self, step):
        station = self.station(step["station"])
        tools = station["tools"] if station else []
        self.check(any(t["number"] == step["tool"] for t in tools), f"no tool {step['tool']}")
        self.check(self.feed is None, "a tool is changed with the bar in the machine")
        self.fetched.add((step["station"], step["tool"]))

    def tool(self, station, op):
        if "tool" not in op:
            self.check(op["process"] == "mark" and station["process"] == "drill", "no tool")
            return None
        found = [t for t in station.get("tools", []) if t["number"] == op["tool"]]
        self.check(len(found) == 1, f"station {station['name']} has no tool {op['tool']}")
        if not found:
            return None
        there = found[0].get("place", "loaded") == "loaded"
        there = there or (station["name"], op["tool"]) in self.fetched
        self.check(there, f"tool {op['tool']} of {station['name']} is in the crib")
        return found[0]

    def do_operation(self, op):
        words = f"{op['feature']} of piece {op['piece']}"
        self.check(op["piece"] not in self.pieces, f"{words}: the piece is gone")
        station = self.station(op["station"])
        if station is None:
            return
        side = op["side"]
        self.check(station["side"] in (side, "both"), f"{words}: {op['station']} is elsewhere")
        self.check(station.get("enters", "outside") == op["enters"], f"{words}: entered wrongly")
        s, g = self.feed - station.get("x_mm", 0.0), self.gauge(op["gauge_mm"], side)
        self.check(abs(s - op["bar_mm"]) <= SAME, f"{words}: the tool is at {s:.6f} of the bar")
        self.check(abs(g - op["from_heel_mm"]) <= SAME, f"{words}: its gauges differ")
        places = [(s, g)]
        if op["process"] == "mill":
            places.append((op["to_bar_mm"], self.gauge(op["to_gauge_mm"], side)))
            self.check(abs(places[1][1] - op["to_from_heel_mm"]) <= SAME, f"{words}: gauges differ")
        for _, at in places:
            self.check(
                in_range(at, station.get("from_heel", {}))
                and in_range(self.widths[side] - at, station.get("from_toe", {})),
                f"{words}: gauge {at:.3f} is out of reach of {op['station']}",
            )
        tool = self.tool(station, op)
        if op["process"] == "mark":
            self.check(tool is None or tool["shape"] == "centre", f"{words}: marked by a cutter")
            self.held_at(s, s, words)
            self.marks.append((op["piece"], side, s, g))
            return
        if tool is not None:
            self.cut_hole(op, station, tool, places, words)

    def cut_hole(self, op, station, tool, places, words):
        side = op["side"]
        self.check(
            op["process"] == ("mill" if len(places) > 1 else station["process"]),
            f"{words}: {station['name']} does not {op['process']}",
        )
        if tool["shape"] == "round":
            self.check(op.get("diameter_mm") == tool["diameter_mm"], f"{words}: another diameter")
            shape = capsule(places[0], places[-1], tool["diameter_mm"] / 2)
            if op["hits"] > 1:
                self.check(tool.get("several_hits", False), f"{words}: it must not nibble")
                self.nibbled.add((op["piece"], op["feature"]))
        elif tool["shape"] == "oblong":
            turn = op["direction_deg"]
            off = abs(math.sin(math.radians(turn - tool.get("angle_deg", 0.0))))
            self.check(tool.get("turns") or off < 1e-3, f"{words}: the tool does not lie so")
            # the travel is against s, so a direction from it is turned over
            shape = oblong(places[0], 180.0 - turn, tool["width_mm"], tool["length_mm"])
        else:
            self.faults.append(f"{words}: a centre punch makes no hole")
            return
        ends = [p[0] for p in places]
        self.held_at(max(ends), shape.bounds[2], words)
        if len(places) > 1:
            self.stand_while_milling(station, places)
        self.check(
            shape.intersection(self.steel[side]).area > 0.0, f"{words}: the tool hits no steel"
        )
        if op.get("depth_mm") is not None:
            self.blind.append((op["piece"], side, shape, op["depth_mm"]))
        else:
            self.steel[side] = self.steel[side].difference(shape)

    def stand_while_milling(self, station, places):
        """A cutter that moves along moves the bar: the carriage goes with it."""
        if self.grip is None or "travel_mm" not in self.grip or self.jaw is None:
            return
        at = places[-1][0] + station.get("x_mm", 0.0) - self.jaw
        fore = self.foremost()
        self.check(fore - self.grip["travel_mm"] - SAME <= at <= fore + SAME, "milled off travel")

    def gauge(self, shown, side):
        datum = self.machine.get("datum", {})
        from_edge = shown - datum.get("gauge_at_datum_mm", 0.0)
        return self.widths[side] - from_edge if datum.get("across") == "toe" else from_edge

    def do_stamp(self, op):
        words = f"stamp {op['feature']} of piece {op['piece']}"
        marker = self.machine.get("marker")
        self.check(op["piece"] not in self.pieces, f"{words}: the piece is gone")
        self.check(marker is not None, f"{words}: no marker")
        if marker is None:
            return
        self.check(marker["side"] in (op["side"], "both"), f"{words}: the marker is elsewhere")
        s = self.feed - marker.get("x_mm", 0.0)
        self.check(abs(s - op["bar_mm"]) <= SAME, f"{words}: the marker is at {s:.6f}")
        self.check(in_range(op["nearest_mm"], marker.get("from_heel", {})), f"{words}: reach")
        self.check(abs(self.gauge(op["gauge_mm"], op["side"]) - op["nearest_mm"]) <= SAME, words)
        held = marker.get("characters")
        self.check(held is None or set(op["text"]) <= {*held, " "}, f"{words}: no such letters")
        self.check(
            any(abs(h - op["height_mm"]) <= 0.051 for h in marker["heights_mm"]), f"{words}: height"
        )
        along = abs(math.sin(math.radians(op["reading_deg"]))) < 1e-3
        self.check(along or marker.get("turns", False), f"{words}: it only writes along the bar")
        self.held_at(s, s, words)
        self.stamps.append(op | {"s": s})

    # the shear or saw

    def do_cut(self, op):
        words = f"cut at {op['heel_mm']:.3f}"
        own = self.machine.get("cut_off")
        if own is None:
            self.faults.append(f"{words}: nothing cuts")
            return
        kind = own["cut"] if own["kind"] == "shear" else "saw"
        self.check(op["type"] == kind, f"{words}: it is a {kind}")
        heel = self.feed - own.get("x_mm", 0.0)
        self.check(abs(heel - op["heel_mm"]) <= SAME, f"{words}: the blade is at {heel:.6f}")
        slope = {side: math.tan(math.radians(op[f"{side}_deg"])) for side in self.widths}
        self.swing(own, op, words)
        wide = own["kerf_mm"] if kind == "saw" else own.get("slug_mm", 0.0)
        loss = wide * math.sqrt(1.0 + sum(t * t for t in slope.values()))
        self.check(abs(loss - op["loss_mm"]) <= SAME, f"{words}: it takes {loss:.4f} mm")
        off, rest, reach = {}, {}, heel
        for side, width in self.widths.items():
            lean = slope[side] * width
            first = Polygon([(-FAR, 0), (heel, 0), (heel - lean, width), (-FAR, width)])
            second = Polygon(
                [(FAR, 0), (heel + loss, 0), (heel + loss - lean, width), (FAR, width)]
            )
            off[side] = self.steel[side].intersection(first)
            rest[side] = self.steel[side].intersection(second)
            reach = max(reach, heel + loss, heel + loss - lean)
        reach = max(reach, *self.at_corners(heel + loss, slope))
        self.held_at(heel, reach, words)
        self.steel = rest
        self.front = max(self.front, reach)
        self.keep_inside(op, heel + loss, slope, words)
        freed = op.get("frees")
        if freed is None:
            return
        self.check(freed not in self.pieces, f"{words}: piece {freed} comes off twice")
        self.check(freed == len(self.pieces) + 1, f"{words}: piece {freed} is not the next one")
        self.pieces[freed] = off
        piece = next(p for p in self.program["pieces"] if p["number"] == freed)
        if piece["index"] == 1:
            self.expected_measure = freed

    def at_corners(self, heel, slope):
        """Where a plane meets the heel and the corners of both toes, outside and inside."""
        corners = [dict.fromkeys(self.widths, 0.0)]
        for side, width in self.widths.items():
            corners += [
                {other: width if other == side else depth for other in self.widths}
                for depth in (0.0, self.program["thickness_mm"])
            ]
        return [heel - sum(slope[s] * y for s, y in corner.items()) for corner in corners]

    def keep_inside(self, op, heel, slope, words):
        """What is behind a piece's leading plane must not have been cut by the one before it.

        On the outer faces the polygons show that; where planes are swung both ways the inside
        of a toe reaches farther, so each corner of the section is looked at.
        """
        plane = self.at_corners(heel, slope)
        if self.cut_to is not None and "behind" in op and "ahead" not in op:
            self.check(
                all(now >= then - SAME for now, then in zip(plane, self.cut_to, strict=True)),
                f"{words}: the cut before it went into the piece inside",
            )
        self.cut_to = plane if "ahead" in op else None

    def swing(self, own, op, words):
        angles = own.get("angles") or {}
        swung = [side for side in self.widths if abs(op[f"{side}_deg"]) > 0.006]
        for side in swung:
            limits = angles.get(side) or {"least_deg": 0.0, "most_deg": 0.0}
            self.check(
                limits["least_deg"] - 0.006 <= op[f"{side}_deg"] <= limits["most_deg"] + 0.006,
                f"{words}: it does not swing so far {side}",
            )
        self.check(len(swung) < 2 or angles.get("compound", False), f"{words}: swung both ways")

    # steps

    def do_stop(self, step):
        self.stops += 1
        self.check(step["number"] == self.stops, f"stop {step['number']} comes {self.stops}th")
        self.stand(step["feed_mm"], step.get("carriage_mm"))
        datum = self.machine.get("datum", {}).get("along", "lead-end")
        shown = self.feed if datum == "lead-end" else self.length - self.feed
        self.check(abs(shown - step["counter_mm"]) <= SAME, "the counter shows something else")
        self.check(bool(step["operations"]), "a stop with nothing to do")
        milled = [
            op
            for op in step["operations"]
            if op.get("process") == "mill" and abs(op["to_bar_mm"] - op["bar_mm"]) > SAME
        ]
        self.check(not milled or len(step["operations"]) == 1, "milled while other tools work")
        done = {"operation": self.do_operation, "stamp": self.do_stamp, "cut": self.do_cut}
        for op in step["operations"]:
            done[op["kind"]](op)
        if milled and self.machine.get("stations"):
            station = self.station(milled[0]["station"])
            self.feed = milled[0]["to_bar_mm"] + station.get("x_mm", 0.0)

    def do_measure(self, step):
        self.check(self.expected_measure == step["piece"], "measured what is no first piece")
        self.measured.add(step["piece"])
        self.expected_measure = None

    def do_load(self, step):
        self.check(self.feed is None, "loaded twice")
        self.feed = step["feed_mm"]

    def do_unload(self, _):
        self.unloaded = True

    def run(self):
        done = {
            "load": self.do_load,
            "tool_change": self.do_change,
            "grip": self.do_grip,
            "move": lambda step: self.stand(step["feed_mm"], step.get("carriage_mm")),
            "stop": self.do_stop,
            "measure": self.do_measure,
            "unload": self.do_unload,
        }
        for step in self.program["steps"]:
            self.check(not self.unloaded, "something is done after the bar was taken away")
            self.check(
                self.expected_measure is None or step["kind"] == "measure",
                f"first piece {self.expected_measure} is not measured",
            )
            done[step["kind"]](step)
        self.check(self.unloaded, "the bar stays in the machine")
        last = self.program["pieces"][-1]
        if last["number"] not in self.pieces and abs(last["trail_mm"] - self.length) <= SAME:
            self.pieces[last["number"]] = self.steel  # it ends where the bar does
        return self


# --- what the parts want ----------------------------------------------------------------------


def left_to_hand(piece):
    """Element -> words of second work; reaming and countersinking leave the hole to be made."""
    return {work["element"]: work["what"] for work in piece.get("second_work", [])}


def wanted(part, piece, machine):
    """What should come off: side -> polygon, and marks, blind holes and stamps by place."""
    hand = left_to_hand(piece)
    ends = part.ends.model_copy(
        update={
            end: type(getattr(part.ends, end))()
            for end in ("start", "far")
            if f"ends.{end}" in hand
        }
    )
    legs = part.legs
    for leg in leg_names(part):
        own = leg_of(part, leg)
        kept = tuple(t for i, t in enumerate(own.trims) if f"legs.{leg}.trims.{i}" not in hand)
        legs = legs.model_copy(update={leg: own.model_copy(update={"trims": kept})})
    bare = part.model_copy(update={"ends": ends, "legs": legs})
    assert isinstance(bare.ends, AngleEnds | FlatEnds)
    out = {"steel": {}, "marks": [], "blind": [], "stamps": [], "reamed": {}, "slots": {}}
    for leg, (side, along, across) in way_of(part, piece, machine).items():
        width = leg_width(part.section, leg)

        def place(x, y, along=along, across=across, width=width):
            s = piece["lead_mm"] + (x if along < 0 else part.length_mm - x)
            return (s, y if across > 0 else width - y)

        outline = leg_outline(bare, leg)
        assert not outline.faults
        steel = Polygon([place(*p) for p in flatten(outline.contour, 0.001)])
        reamed, slots = [], []
        for feature in leg_of(part, leg).features:
            words = hand.get(f"legs.{leg}.{feature.id}", "")
            partly = words.startswith(("reaming of", "countersink of"))
            if words and not partly:
                continue
            if isinstance(feature, CentreMark) or (
                isinstance(feature, Hole | Slot) and feature.process == "mark-only"
            ):
                out["marks"].append((side, *place(feature.x_mm, feature.y_mm)))
            elif isinstance(feature, Hole | Slot):
                shape = mapped(feature, place)
                if feature.depth_mm is not None:
                    out["blind"].append((side, shape, feature.depth_mm))
                    continue
                steel = steel.difference(shape)
                if words.startswith("reaming of"):
                    reamed.append((feature.id, shape))
                elif isinstance(feature, Slot):
                    slots.append((feature.id, shape, feature.width_mm / 2))
            elif isinstance(feature, Stamp):
                out["stamps"].append(stamped(part, feature, side, place, machine))
            else:
                raise AssertionError(f"{feature.id} is neither made nor second work")
        out["steel"][side] = steel
        out["reamed"][side] = reamed
        out["slots"][side] = slots
    return out


def mapped(feature, place):
    if isinstance(feature, Hole):
        middle = place(feature.x_mm, feature.y_mm)
        return capsule(middle, middle, feature.diameter_mm / 2)
    half = (feature.length_mm - feature.width_mm) / 2
    dx = half * math.cos(math.radians(feature.angle_deg))
    dy = half * math.sin(math.radians(feature.angle_deg))
    p = place(feature.x_mm - dx, feature.y_mm - dy)
    q = place(feature.x_mm + dx, feature.y_mm + dy)
    return capsule(p, q, feature.width_mm / 2)


def stamped(part, stamp, side, place, machine):
    """Side, text, place of the left end as read, reading direction, and the letters' box."""
    text = part.mark if stamp.text is None else stamp.text
    long = len(text) * machine["marker"].get("letter_width", 0.6) * stamp.height_mm
    c, s = math.cos(math.radians(stamp.angle_deg)), math.sin(math.radians(stamp.angle_deg))
    corners = [
        place(stamp.x_mm + u * c - v * s, stamp.from_heel_mm + u * s + v * c)
        for u, v in ((0, 0), (long, 0), (long, stamp.height_mm), (0, stamp.height_mm))
    ]
    return (side, text, corners[0], corners[1], min(g for _, g in corners), stamp.may_move)


# --- the comparison ----------------------------------------------------------------------------


def differences(document, machine, parts):
    """Replay a program; return everything in which it differs from the parts, as sentences.

    Args:
        document: the program's JSON document.
        machine: the ``machine`` of the profile's JSON document.
        parts: mark -> part.
    """
    bar = Bar(document, machine).run()
    out = list(bar.faults)
    pieces = document["program"]["pieces"]
    for piece in pieces:
        number = piece["number"]
        if number not in bar.pieces:
            out.append(f"piece {number} never comes off")
            continue
        wish = wanted(parts[piece["mark"]], piece, machine)
        out += (f"piece {number}: {words}" for words in differs(bar, number, wish))
    extra = set(bar.pieces) - {piece["number"] for piece in pieces}
    out += [f"piece {number} is none of the plan" for number in sorted(extra)]
    return out


def differs(bar, number, wish):
    made = bar.pieces[number]
    if set(made) != set(wish["steel"]):
        yield "it lies on other sides"
        return
    for side, steel in wish["steel"].items():
        got = made[side]
        for name, shape in wish["reamed"][side]:
            if got.intersection(shape).area > 0.9 * shape.area:
                yield f"{name} was never punched"
            got = got.difference(shape)  # the second work, done
        nibbled = []
        for name, shape, radius in wish["slots"][side]:
            if (number, name) not in bar.nibbled:
                continue
            # Hits half a width apart leave cusps of at most r - sqrt(r^2 - (r/2)^2).
            # Facets of slanting hits and of the slot differ by up to r (1 - cos(pi / 64)).
            facet = 0.002 * radius
            cusp = radius * (1.0 - math.sqrt(0.75)) + facet
            if got.intersection(shape.buffer(-cusp)).area > SAME:
                yield f"{name} is nibbled with more than cusps left"
            nibbled.append(shape.buffer(facet))
        off = got.symmetric_difference(steel).difference(unary_union(nibbled)).area
        if off > 1e-6 * steel.area:
            yield f"{off:.6f} mm2 of the {side} side differ"
    marks = [(side, s, g) for piece, side, s, g in bar.marks if piece == number]
    yield from unmatched("mark", marks, wish["marks"], near_point)
    blind = [(side, shape, depth) for piece, side, shape, depth in bar.blind if piece == number]
    yield from unmatched("blind hole", blind, wish["blind"], near_shape)
    stamps = [op for op in bar.stamps if op["piece"] == number]
    yield from unmatched("stamp", stamps, wish["stamps"], near_stamp)


def unmatched(what, made, wished, same):
    left = list(made)
    for wish in wished:
        found = next((one for one in left if same(one, wish)), None)
        if found is None:
            yield f"a {what} is missing or elsewhere"
        else:
            left.remove(found)
    if left:
        yield f"a {what} too many"


def near_point(one, two):
    return one[0] == two[0] and math.dist(one[1:], two[1:]) < SAME


def near_shape(one, two):
    area = one[1].symmetric_difference(two[1]).area
    return one[0] == two[0] and one[2] == two[2] and area <= 1e-6 * two[1].area


def near_stamp(op, wish):
    side, text, first, second, nearest, may_move = wish
    if (op["side"], op["text"]) != (side, text):
        return False
    turn = math.radians(op["reading_deg"])
    reading = (-math.cos(turn), math.sin(turn))
    long = math.dist(first, second)
    way = ((second[0] - first[0]) / long, (second[1] - first[1]) / long)
    is_placed = (
        abs(op["s"] - first[0]) < SAME
        and abs(op["from_heel_mm"] - first[1]) < SAME
        and abs(op["nearest_mm"] - nearest) < SAME
    )
    return math.dist(reading, way) < 1e-6 and (is_placed or (may_move and op["is_moved"]))
