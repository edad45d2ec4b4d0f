"""Random orders on the sample machines: parts that a machine can make, laid out on bars.

The layout is this file's own (it is no good plan, only a sound one): pieces one behind the
other, each end cut by a plane worked out here by plain trigonometry, so that a program made
from it does not lean on the planner that it is used with.
"""

import json
import math
import random
from dataclasses import dataclass
from pathlib import Path

from shapely.geometry import Point, Polygon

from translator.bars.plan_model import Drop, PlannedBar, PlannedCut, PlannedPiece
from translator.geometry.contours import flatten
from translator.geometry.outline import leg_outline
from translator.machines import capable_as, load_machine
from translator.model import (
    Angle,
    AngleEnd,
    AngleEnds,
    AngleLegs,
    CentreMark,
    Clip,
    Cope,
    Flat,
    FlatEnd,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Opening,
    Part,
    Placed,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    feature_path,
    leg_names,
    leg_of,
    leg_width,
    on_grid,
)
from translator.source import Source, Span

MACHINES = Path(__file__).parent.parent / "samples" / "machines"
NAMES = ("punch-and-drill-line", "drill-and-saw-line", "hand-bench")
SECTIONS = (
    Angle(leg_a_mm=101.6, leg_b_mm=88.9, thickness_mm=9.525, root_radius_mm=9.525),
    Angle(leg_a_mm=76.2, leg_b_mm=101.6, thickness_mm=7.9375, root_radius_mm=9.525),
    Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=9.0, root_radius_mm=11.0),
    Angle(leg_a_mm=120.0, leg_b_mm=120.0, thickness_mm=10.0, root_radius_mm=13.0),
    Flat(width_mm=100.0, thickness_mm=10.0),
    Flat(width_mm=101.6, thickness_mm=9.525),
)


@dataclass(frozen=True)
class Shop:
    """A sample machine as the model and as its own JSON."""

    name: str
    model: object
    raw: dict


def shop(name):
    path = MACHINES / f"{name}.machine.json"
    data = path.read_bytes()
    model, findings = load_machine(Source(path=path.name, data=data))
    assert findings == ()
    return Shop(name, model, json.loads(data)["machine"])


# --- parts ---------------------------------------------------------------------------------


def step(rng, low, high, pitch):
    """A length on a pitch, as a shop would write it."""
    first, last = math.ceil(low / pitch), math.floor(high / pitch)
    return on_grid(pitch * rng.randint(first, max(first, last)))


@dataclass(frozen=True)
class Draft:
    """What a random part is drawn with."""

    rng: random.Random
    own: Shop
    section: object
    pitch: float
    length: float

    def step(self, low, high):
        return step(self.rng, low, high, self.pitch)


def random_part(rng, own, section, mark):
    """A part of what a shop draws; whether the machine can make it is asked afterwards."""
    pitch = rng.choice([0.5, 25.4 / 16, 1.0])
    least = own.raw["piece_length"]["least_mm"]
    length = step(rng, least, rng.choice([least + 300, 900.0, 2400.0]), pitch)
    draft = Draft(rng, own, section, pitch, length)
    flat = isinstance(section, Flat)
    legs = {
        name: Leg(features=tuple(random_features(draft, name)), trims=random_trims(draft, name))
        for name in (("face",) if flat else ("a", "b"))
    }
    ends = {end: random_end(rng, own, section) for end in ("start", "far")}
    return Part(
        mark=mark,
        quantity=rng.randint(1, 9),
        grade="S275JR",
        length_mm=length,
        section=section,
        legs=FlatLegs(**legs) if flat else AngleLegs(**legs),
        ends=FlatEnds(**ends) if flat else AngleEnds(**ends),
        units="inch" if pitch == 25.4 / 16 else "mm",
    )


def random_end(rng, own, section):
    flat = isinstance(section, Flat)
    swings = "angles" in own.raw["cut_off"] or "mitre" in own.raw["second_work"]
    if not swings or rng.random() < 0.5:
        return FlatEnd() if flat else AngleEnd()
    one, two = (rng.choice([-45.0, -22.5, 7.125, 15.0, 30.0, 45.0]) for _ in "ab")
    if flat:
        return FlatEnd(face_deg=one)
    if own.raw["cut_off"].get("angles", {}).get("compound") and rng.random() < 0.4:
        return AngleEnd(leg_a_deg=one, leg_b_deg=two)
    return AngleEnd(leg_a_deg=one) if rng.random() < 0.5 else AngleEnd(leg_b_deg=two)


def is_sound(part):
    """Whether every hole and slot lies well within its leg, cut off as its ends are."""
    for leg in leg_names(part):
        outline = leg_outline(part, leg)
        if outline.faults:
            return False
        inside = Polygon(flatten(outline.contour, 0.01)).buffer(-1.0)
        for feature in leg_of(part, leg).features:
            if isinstance(feature, Hole | Slot):
                size = feature.diameter_mm if isinstance(feature, Hole) else feature.length_mm
                if not Point(feature.x_mm, feature.y_mm).buffer(size / 2.0).within(inside):
                    return False
    return True


def random_trims(draft, name):
    rng = draft.rng
    if rng.random() < 0.8 or draft.length < 250.0:
        return ()
    side = "upper" if name == "face" else "toe"
    end = rng.choice(["start", "far"])
    if rng.random() < 0.5:
        across = leg_width(draft.section, name) / 4
        return (Cope(end=end, side=side, along_mm=30.0, across_mm=across, radius_mm=5.0),)
    return (Clip(end=end, side=side, along_mm=20.0, across_mm=20.0),)


def random_features(draft, name):
    """Holes and the like, each in a stretch of its own so that they keep clear of each other."""
    rng = draft.rng
    tools = [
        tool
        for station in draft.own.raw["stations"]
        for tool in station["tools"]
        if tool["shape"] != "centre" and (tool.get("place") != "crib" or rng.random() < 0.2)
    ]
    cells = max(int((draft.length - 100.0) // 60.0), 0)
    columns = sorted(rng.sample(range(cells), min(cells, rng.randint(0, 5))))
    low, high = draft.section.thickness_mm + 24.0, leg_width(draft.section, name) - 30.0
    for number, column in enumerate(columns, start=1):
        x = draft.step(65.0 + 60.0 * column, 75.0 + 60.0 * column)
        y = draft.step(min(low, high), max(low, high))
        yield random_feature(draft, {"id": f"{name[0]}{number}", "x_mm": x, "y_mm": y}, tools)
    if rng.random() < 0.3 and draft.length > 200.0:
        yield Stamp(
            id=f"{name[0]}s",
            text=rng.choice([None, "TQ-7", "ER 19"]),
            x_mm=draft.step(20.0, draft.length - 120.0),
            from_heel_mm=draft.step(15.0, 40.0),
            height_mm=9.525,
            angle_deg=rng.choice([0.0, 0.0, 180.0]),
            may_move=rng.random() < 0.4,
        )


def random_feature(draft, place, tools):
    rng = draft.rng
    tool = rng.choice(tools)
    if tool["shape"] == "oblong":
        angle = tool.get("angle_deg", 0.0)
        return Slot(
            **place, width_mm=tool["width_mm"], length_mm=tool["length_mm"], angle_deg=angle
        )
    size = tool["diameter_mm"]
    if tool.get("several_hits"):
        long = draft.step(size + 8.0, size + 30.0)
        angle = rng.choice([0.0, 90.0, 30.0, -45.0])
        return Slot(**place, width_mm=size, length_mm=long, angle_deg=angle)
    if rng.random() < 0.7:
        return Hole(**place, diameter_mm=size)
    return rng.choice(RARER)(place, size, draft.length)


def opening(place, _size, _length):
    x, y = place["x_mm"], place["y_mm"]
    corners = ((x - 6.0, y - 6.0), (x + 6.0, y - 6.0), (x, y + 6.0))
    return Opening(id=place["id"], contour=tuple(Vertex(x_mm=p, y_mm=q) for p, q in corners))


def scribe(place, _size, length):
    y = place["y_mm"]
    line = (Vertex(x_mm=10.0, y_mm=y), Vertex(x_mm=length - 10.0, y_mm=y))
    return Scribe(id=place["id"], line=line)


def with_hole(grown=0.0, sunk=0.0, **more):
    def made(place, size, _length):
        both = {}
        if sunk:
            both = {"countersink_diameter_mm": size + sunk, "countersink_angle_deg": 90.0}
        return Hole(**place, diameter_mm=size + grown, **both, **more)

    return made


RARER = (
    opening,
    scribe,
    with_hole(process="mark-only"),
    with_hole(process="drill", depth_mm=6.0),
    with_hole(process="sub-punch-and-ream", grown=3.1),
    with_hole(sunk=8.0),
    with_hole(thread="right"),
    lambda place, _size, _length: CentreMark(**place),
)


def placed(part, file, line):
    """A part as if read from a file: each element a line of its own."""
    paths = ["", "length", *(f"ends.{end}" for end in ("start", "far"))]
    paths += [
        feature_path(leg, feature.id)
        for leg in leg_names(part)
        for feature in leg_of(part, leg).features
    ]
    places = {p: Span(file, line + i, 1, line + i, 2) for i, p in enumerate(paths)}
    return Placed(part=part, places=places)


# --- layout --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Plane:
    """s = heel - tan(angle) * g on each side."""

    heel: float
    deg: dict

    def corners(self, widths, thickness):
        """s at the heel, at each toe, and at the inside of each toe."""
        tan = {side: math.tan(math.radians(deg)) for side, deg in self.deg.items()}
        out = [self.heel]
        for side, width in widths.items():
            over = sum(tan[other] * thickness for other in widths if other != side)
            out += [self.heel - tan[side] * width, self.heel - tan[side] * width - over]
        return out

    def moved(self, by):
        return Plane(self.heel + by, self.deg)


def sides(part, placement, own):
    """Leg -> side, and whether a flat lies with its upper edge at the heel's place."""
    if isinstance(part.section, Flat):
        side = own.raw["flats"]["side"]
        return {"face": (side, (side == "left") != (placement.leg_a == "left"))}
    other = "right" if placement.leg_a == "left" else "left"
    return {"a": (placement.leg_a, False), "b": (other, False)}


def end_plane(part, placement, own, end, hand):
    """The plane of an end in coordinates that run from the piece's leading end: s - lead."""
    cut = getattr(part.ends, end)
    outward = -1.0 if placement.lead_end == end else 1.0
    tan = {}
    for leg, (side, flipped) in sides(part, placement, own).items():
        deg = 0.0 if hand else getattr(cut, "face_deg" if leg == "face" else f"leg_{leg}_deg")
        tan[side] = (math.tan(math.radians(deg)), flipped, leg_width(part.section, leg))
    # how far the plane stands back from the outermost point, at the heel of the part
    back = max(0.0, *(t * w for t, _, w in tan.values()))
    heel = (0.0 if outward < 0 else part.length_mm) - outward * back
    degs = {}
    for side, (t, flipped, width) in tan.items():
        heel += outward * t * width if flipped else 0.0
        lean = outward * (-t if flipped else t)  # ds / dg
        degs[side] = -math.degrees(math.atan(lean))
    return Plane(heel, degs)


def loss(own, plane):
    cut = own.raw["cut_off"]
    wide = cut["kerf_mm"] if cut["kind"] == "saw" else cut.get("slug_mm", 0.0)
    return wide * math.sqrt(1.0 + sum(math.tan(math.radians(d)) ** 2 for d in plane.deg.values()))


def blade(own, plane, serves, *, ahead=None, behind=None):
    cut = own.raw["cut_off"]
    taken = loss(own, plane)
    heel = plane.heel - (taken if serves == "behind" else 0.0)
    return PlannedCut(
        kind="saw" if cut["kind"] == "saw" else cut["cut"],
        serves=serves,
        ahead=ahead,
        behind=behind,
        heel_mm=heel,
        loss_mm=taken,
        left_deg=plane.deg.get("left", 0.0),
        right_deg=plane.deg.get("right", 0.0),
    )


def hand_mitres(own, part, placement):
    answer = capable_as(own.model, part, placement)
    return {r.element for r in answer.reasons if r.hand_work}


def layout(rng, own, choices, length, number):
    """Lay pieces on one bar until nothing more fits.

    Args:
        rng: chooses.
        own: the machine.
        choices: parts with the placements that they may lie in.
        length: of the bar.
        number: of the bar.
    """
    tail = (own.raw.get("grip") or {}).get("tail_mm", 0.0)
    pieces, cuts = [], []
    free = None  # plane behind which steel is left
    index = {}
    while len(pieces) < 40:
        part, placements = rng.choice(choices)
        placement = rng.choice(placements)
        widths = {
            side: leg_width(part.section, leg)
            for leg, (side, _) in sides(part, placement, own).items()
        }
        thick = part.section.thickness_mm
        by_hand = hand_mitres(own, part, placement)
        trailing = "far" if placement.lead_end == "start" else "start"
        front = end_plane(
            part, placement, own, placement.lead_end, f"ends.{placement.lead_end}" in by_hand
        )
        back = end_plane(part, placement, own, trailing, f"ends.{trailing}" in by_hand)
        shared = free is not None and all(
            abs(free.deg[side] - front.deg[side]) < 1e-9 for side in widths
        )
        if free is None:
            lead = own.raw["cut_off"]["front_trim_mm"] - min(0.0, *front.corners(widths, thick))
        else:
            gaps = zip(free.corners(widths, thick), front.corners(widths, thick), strict=True)
            lead = max(f - p for f, p in gaps)
            lead += 0.0 if shared else rng.choice([0.0, 1.5, 20.0])
        lead = on_grid(max(lead, 0.0))
        after = back.moved(lead)
        reach = max(after.moved(loss(own, after)).corners(widths, thick))
        if max(reach, lead + part.length_mm) > length - tail:
            break
        n = len(pieces) + 1
        index[part.mark] = index.get(part.mark, 0) + 1
        pieces.append((n, part, placement, lead, index[part.mark]))
        if shared:
            last = cuts.pop()
            cuts.append(last.model_copy(update={"serves": "both", "behind": n}))
        else:
            cuts.append(blade(own, front.moved(lead), "behind", behind=n))
        cuts.append(blade(own, after, "ahead", ahead=n))
        free = after.moved(loss(own, after))
    if not pieces:
        return None
    return planned_bar(own, number, length, pieces, cuts)


def planned_bar(own, number, length, pieces, cuts):
    widest = max(leg_width(pieces[0][1].section, leg) for leg in leg_names(pieces[0][1]))
    used = max(cut.heel_mm + cut.loss_mm + widest for cut in cuts)
    return PlannedBar(
        number=number,
        group=1,
        pattern=number,
        stock=f"S{number}",
        length_mm=length,
        heat="H4711",
        section="as drawn",
        grade="S275JR",
        heel=pieces[0][2].heel,
        front_trim_mm=own.raw["cut_off"]["front_trim_mm"],
        pieces=tuple(
            PlannedPiece(
                number=n,
                mark=part.mark,
                index=i,
                count=i,
                length_mm=part.length_mm,
                lead_mm=lead,
                placement=placement,
                source="order.bmk",
            )
            for n, part, placement, lead, i in pieces
        ),
        cuts=tuple(cuts),
        tail_mm=(own.raw.get("grip") or {}).get("tail_mm", 0.0),
        drop=Drop(length_mm=max(length - used, 0.0), kind="remnant", label=f"R{number}"),
    )


def order(seed, own):
    """Return a random order on a machine: its bars, and its parts as if read from a file.

    The parts are those of one section that the machine can make in some placement.
    """
    rng = random.Random(f"{own.name} {seed}")
    section = rng.choice(SECTIONS)
    choices = []
    made = []
    for number in range(rng.randint(2, 6)):
        part = random_part(rng, own, section, f"P{number}")
        if not is_sound(part):
            continue
        can = [p for p in own.model.placements if capable_as(own.model, part, p).verdict != "not"]
        if isinstance(section, Angle) and section.leg_a_mm != section.leg_b_mm and can:
            can = [p for p in can if p.leg_a == own.model.placements[seed % 2].leg_a]
        if can:
            choices.append((part, can))
            made.append(placed(part, "order.bmk", 1 + 100 * number))
    if not choices:
        return (), ()
    lengths = own.raw["stock_length"]
    bars = []
    for number in range(1, rng.randint(2, 3)):
        long = step(rng, lengths["least_mm"], min(lengths["most_mm"], 12200.0), 50.0)
        bar = layout(rng, own, choices, long, number)
        if bar is not None:
            bars.append(bar)
    return tuple(bars), tuple(made)
