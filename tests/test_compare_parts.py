"""Two states of one part told apart: nothing missed, nothing made up.

What is told is put through JSON and done to the old part, and the result held against the new
part by means that are not the code's own: the keys of ``geometry.identity`` and shapely.
"""

import json
import math
import time

import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st
from model_shapes import ring_of, steel_of
from strategies import parts, told_by_outline

from translator.changes import applied, compare_parts
from translator.changes.alike import traits
from translator.changes.applying import prepared
from translator.changes.document import told_document, told_of
from translator.geometry.identity import drawn_key, mirrored, opposite_hand, same_piece, turned
from translator.geometry.outline import leg_outline
from translator.geometry.turning import turned_over, turns
from translator.model import (
    Angle,
    AngleLegs,
    CentreMark,
    Cope,
    Flat,
    FlatLegs,
    Hole,
    Leg,
    Opening,
    Part,
    Scribe,
    Slot,
    Stamp,
    Vertex,
    Waiver,
    leg_names,
    leg_of,
    on_grid,
)

CLIP = Part(
    mark="C12",
    quantity=24,
    grade="A36",
    length_mm=292.1,
    section=Angle(leg_a_mm=101.6, leg_b_mm=88.9, thickness_mm=9.525),
    legs=AngleLegs(
        a=Leg(
            features=tuple(
                Hole(id=f"a{n + 1}", x_mm=31.75 + 76.2 * n, y_mm=63.5, diameter_mm=20.6375)
                for n in range(4)
            )
        ),
        b=Leg(
            features=tuple(
                Slot(
                    id=f"b{n + 1}",
                    x_mm=31.75 + 76.2 * n,
                    y_mm=50.8,
                    width_mm=20.6375,
                    length_mm=25.4,
                    angle_deg=90.0,
                )
                for n in range(4)
            )
        ),
    ),
    ends={"start": {}, "far": {}},
    revision="A",
    units="inch",
)


def with_leg(part, leg, **fields):
    new = leg_of(part, leg).model_copy(update=fields)
    return part.model_copy(update={"legs": part.legs.model_copy(update={leg: new})})


def with_features(part, leg, features):
    return with_leg(part, leg, features=tuple(features))


def edited(part, leg, number, **fields):
    """Change one feature; the new part is validated as a reader would."""
    features = list(leg_of(part, leg).features)
    features[number] = features[number].model_copy(update=fields)
    return Part.model_validate_json(with_features(part, leg, features).model_dump_json())


def through_json(told):
    return told_of(json.loads(json.dumps(told_document(told))))


def words(part):
    """What a part says beside its shape, spelling apart."""
    lists = ("remarks", "second_work", "carried")
    plain = ("mark", "quantity", "title", "order", "drawing", "revision", "phase", "lot")
    return (
        [getattr(part, name) or None for name in plain],
        [sorted(getattr(part, name)) for name in lists],
        sorted(w.model_dump_json() for w in part.waivers),
        sorted(
            (leg, f.id, getattr(f, "bolt", None), getattr(f, "purpose", None))
            for leg in leg_names(part)
            for f in leg_of(part, leg).features
        ),
        sorted(
            # A stamp of the mark and one that spells the mark stamp the same letters.
            (leg, f.may_move, f.text or part.mark)
            for leg in leg_names(part)
            for f in leg_of(part, leg).features
            if isinstance(f, Stamp)
        ),
    )


def same_metal(one, two):
    for leg in leg_names(one):
        shapes = [steel_of(p, leg, leg_outline(p, leg).contour) for p in (one, two)]
        if shapes[0].symmetric_difference(shapes[1]).area > 1e-3:
            return False
    return True


def assert_done(old, new, told):
    """Do what was told, and see that the new part comes out of it."""
    made = applied(old, through_json(told))
    assert words(made) == words(new)
    if drawn_key(made) != drawn_key(prepared(new)):
        # A shape that one side tells by cuts and the other corner by corner has two keys.
        bare = [square(with_all_trims(p, ())) for p in (made, new)]
        assert drawn_key(bare[0]) == drawn_key(bare[1])
        assert same_metal(made, new)


def with_all_trims(part, trims):
    for leg in leg_names(part):
        part = with_leg(part, leg, trims=trims)
    return part


def square(part):
    return part.model_copy(update={"ends": type(part.ends)()})


@st.composite
def respelled(draw, part):
    """The same part, spelt otherwise: order, ids, unit, name of the section, shape by corners."""
    names = [f"n{n}" for n in range(1, 60)]
    ids = {}
    shuffled = part
    for leg in leg_names(part):
        features = draw(st.permutations(leg_of(part, leg).features))
        fresh = []
        for feature in features:
            ids[feature.id] = names[len(ids)]
            fresh.append(feature.model_copy(update={"id": ids[feature.id]}))
        shuffled = with_leg(
            shuffled,
            leg,
            features=tuple(fresh),
            trims=tuple(draw(st.permutations(leg_of(part, leg).trims))),
        )
    shuffled = shuffled.model_copy(
        update={
            "units": draw(st.sampled_from(["mm", "inch"])),
            "section": part.section.model_copy(update={"designation": "another name"}),
            "remarks": tuple(draw(st.permutations(part.remarks))),
            "waivers": tuple(
                w.model_copy(update={"feature": ids.get(w.feature, w.feature)})
                for w in part.waivers
            ),
        }
    )
    return told_by_outline(shuffled) if draw(st.booleans()) else shuffled


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_a_part_spelt_otherwise_is_no_change(data):
    part = waived(data, data.draw(parts()))
    other = data.draw(respelled(part))
    told = compare_parts(part, other)
    assert [c.text for c in told.changes] == []
    assert told.hand == ""
    assert compare_parts(part, part).changes == ()
    assert [c.text for c in compare_parts(other, part).changes] == []
    assert_done(part, other, told)


def waived(data, part):
    ids = [(leg, f.id) for leg in leg_names(part) for f in leg_of(part, leg).features]
    if not ids or data.draw(st.booleans()):
        return part
    leg, name = data.draw(st.sampled_from(ids))
    waiver = Waiver(rule="spacing-short", leg=leg, feature=name, value=12.0, reason="RFI 17")
    return part.model_copy(update={"waivers": (waiver,)})


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_whatever_is_told_between_any_two_parts_makes_the_one_of_the_other(data):
    kind = data.draw(st.sampled_from(["angle", "flat"]))
    one = waived(data, data.draw(parts(kinds=(kind,))))
    two = waived(data, data.draw(parts(kinds=(kind,))))
    told = compare_parts(one, two)
    assert "whole" not in [c.kind for c in told.changes]
    assert_done(one, two, told)


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_an_angle_that_became_a_flat_is_told_as_a_whole(data):
    one, two = data.draw(parts(kinds=("angle",))), data.draw(parts(kinds=("flat",)))
    for old, new in ((one, two), (two, one)):
        told = compare_parts(old, new)
        assert told.changes[0].kind == "whole"
        assert told.weight == "metal"
        assert applied(old, through_json(told)) == new


# One edit, and exactly that is told.

STEPS = st.sampled_from([0.02, 0.1, 0.79375, 1.5875, 6.35, 25.4, -0.02, -3.175, -40.0])


@given(st.data())
@settings(max_examples=25, deadline=None)
def test_a_moved_feature_is_told_as_that_and_nothing_else(data):
    part = data.draw(parts())
    places = [(leg, n) for leg in leg_names(part) for n in range(len(leg_of(part, leg).features))]
    assume(places)
    leg, number = data.draw(st.sampled_from(places))
    old = leg_of(part, leg).features[number]
    assume(hasattr(old, "x_mm"))
    y = "from_heel_mm" if isinstance(old, Stamp) else "y_mm"
    dx, dy = data.draw(st.sampled_from([(1, 0), (0, 1), (1, 1)]))
    step = data.draw(STEPS)
    fields = {
        "x_mm": on_grid(old.x_mm + dx * step),
        y: on_grid(getattr(old, y) + dy * step),
    }
    new = edited(part, leg, number, **fields)
    told = compare_parts(part, data.draw(respelled(new)))
    alike = [f for f in leg_of(part, leg).features if f.id != old.id and f.kind == old.kind]
    if told.lie == "as before":
        (change,) = told.changes
        assert change.kind == "moved"
        assert change.weight == "metal"
        assert change.leg == leg
        (item,) = change.items
        if not alike:
            assert item.old == old.model_dump(mode="json")
            assert {k: item.new[k] for k in fields} == fields
    else:  # by chance the piece is the same, turned
        assert same_piece(part, new)
    assert_done(part, new, compare_parts(part, new))


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_no_move_is_too_small_to_be_told(data):
    """From 0.000001 mm on; up to 0.011 mm it is told as rounding, beyond as a change of metal."""
    part = data.draw(parts())
    places = [(leg, n) for leg in leg_names(part) for n in range(len(leg_of(part, leg).features))]
    assume(places)
    leg, number = data.draw(st.sampled_from(places))
    old = leg_of(part, leg).features[number]
    assume(hasattr(old, "x_mm"))
    step = data.draw(st.sampled_from([0.000001, 0.0001, 0.005, 0.01, 0.011, 0.0111, 0.012]))
    new = edited(part, leg, number, x_mm=on_grid(old.x_mm + step))
    told = compare_parts(part, new)
    others = [f for f in leg_of(part, leg).features if f.id != old.id]
    assume(all(f.kind != old.kind or abs(f.x_mm - old.x_mm) > 1 for f in others))
    is_rounding = on_grid(new_x(new, leg, number) - old.x_mm) <= 0.011
    assert told.weight == ("rounding" if is_rounding else "metal")
    assert_done(part, new, told)


def new_x(part, leg, number):
    return leg_of(part, leg).features[number].x_mm


FIELDS = [
    ("quantity", 999, "work"),
    ("grade", "S460N", "work"),
    ("finish", "zinc", "work"),
    ("revision", "ZZ", "paper"),
    ("title", "another title", "paper"),
    ("order", "TQ-8", "paper"),
    ("drawing", "E-999", "paper"),
    ("phase", "9", "paper"),
    ("lot", "L9", "paper"),
    ("remarks", ("one", "two"), "paper"),
    ("second_work", ("cope by hand",), "work"),
    ("carried", ("XX 1 2 3",), "paper"),
    ("quantity", 1000, "work"),
]


@pytest.mark.parametrize(("name", "value", "weight"), FIELDS, ids=[f[0] for f in FIELDS])
@given(data=st.data())
@settings(max_examples=8, deadline=None)
def test_a_word_that_changed_is_told_as_that_and_nothing_else(name, value, weight, data):
    part = data.draw(parts())
    new = part.model_copy(update={name: value})
    for old, now in ((part, new), (new, part)):
        (change,) = compare_parts(old, data.draw(respelled(now))).changes
        assert (change.kind, change.weight) == ("said", weight)
        (item,) = change.items
        assert item.path == name
        as_json = json.loads(now.model_dump_json())[name]
        assert (sorted(item.new) if isinstance(as_json, list) else item.new) == (
            sorted(as_json) if isinstance(as_json, list) else as_json
        )


def test_every_field_of_a_part_is_compared():
    """A field that is added to the model must be told too, or be named here as spelling."""
    told = {name for name, *_ in FIELDS} | {"mark", "length_mm", "section", "legs", "ends"}
    told |= {"waivers", "stated"}
    assert told | {"units"} == set(Part.model_fields)


@pytest.mark.parametrize(
    "field",
    [
        ("diameter_mm", 22.0, "metal"),
        ("depth_mm", 5.0, "metal"),
        ("thread", "right", "metal"),
        ("countersink_diameter_mm", 40.0, "metal"),
        ("countersink_angle_deg", 90.0, "metal"),
        ("bolt", "3/4", "paper"),
        ("purpose", "vent", "paper"),
        ("process", "drill", "work"),
        ("process", "mark-only", "metal"),
    ],
    ids=lambda f: f"{f[0]}={f[1]}",
)
def test_every_field_of_a_hole_is_told(field):
    name, value, weight = field
    new = edited(CLIP, "a", 2, **{name: value})
    for old, now in ((CLIP, new), (new, CLIP)):
        (change,) = compare_parts(old, now).changes
        assert (change.kind, change.weight, change.leg) == ("changed", weight, "a")
        assert_done(old, now, compare_parts(old, now))


def test_no_field_of_a_feature_is_left_out():
    """Whatever a feature says, a feature that says otherwise has other traits."""
    line = (Vertex(x_mm=1, y_mm=2, bulge=0.1), Vertex(x_mm=30, y_mm=2), Vertex(x_mm=30, y_mm=40))
    others = (Vertex(x_mm=1, y_mm=2), Vertex(x_mm=30, y_mm=2), Vertex(x_mm=30, y_mm=40))
    samples = {
        Hole: {"id": "a1", "x_mm": 1.0, "y_mm": 2.0, "diameter_mm": 3.0},
        Slot: {"id": "a1", "x_mm": 1.0, "y_mm": 2.0, "width_mm": 3.0, "length_mm": 9.0},
        Opening: {"id": "a1", "contour": line},
        CentreMark: {"id": "a1", "x_mm": 1.0, "y_mm": 2.0},
        Scribe: {"id": "a1", "line": line},
        Stamp: {"id": "a1", "x_mm": 1.0, "from_heel_mm": 2.0, "height_mm": 3.0},
    }
    other = {
        "x_mm": 1.5,
        "y_mm": 2.5,
        "from_heel_mm": 2.5,
        "diameter_mm": 4.0,
        "depth_mm": 1.0,
        "thread": "left",
        "countersink_diameter_mm": 9.0,
        "countersink_angle_deg": 90.0,
        "bolt": "M3",
        "purpose": "rod",
        "process": "punch",
        "width_mm": 4.0,
        "length_mm": 10.0,
        "angle_deg": 30.0,
        "contour": others,
        "line": others,
        "method": "punch",
        "closed": True,
        "text": "ABC",
        "height_mm": 4.0,
        "may_move": True,
    }
    for kind, fields in samples.items():
        one = kind(**fields)
        for name in set(kind.model_fields) - {"id", "kind"}:
            two = kind(**{**fields, name: other[name]})
            assert traits(one, "M").key != traits(two, "M").key, (kind, name)


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_a_changed_trim_is_told_as_that_and_nothing_else(data):
    part = data.draw(parts(explicit=False))
    found = [
        (leg, n, name)
        for leg in leg_names(part)
        for n, trim in enumerate(leg_of(part, leg).trims)
        for name in ("along_mm", "across_mm", "radius_mm", "x_from_mm")
        if getattr(trim, name, 0)
    ]
    assume(found)
    leg, number, name = data.draw(st.sampled_from(found))
    trims = list(leg_of(part, leg).trims)
    value = on_grid(getattr(trims[number], name) * 0.9)
    trims[number] = trims[number].model_copy(update={name: value})
    try:
        new = Part.model_validate_json(with_leg(part, leg, trims=tuple(trims)).model_dump_json())
    except ValueError:
        reject()  # the trim can't be so
    assume(all(not leg_outline(new, name).faults for name in leg_names(new)))
    assume(not same_piece(part, new))
    told = compare_parts(part, data.draw(respelled(new)))
    if told.lie == "as before":
        assert {c.kind for c in told.changes} <= {"trim", "outline"}
        if not is_within(part, new, 0.02):
            assert told.weight == "metal"
    assert told.changes
    assert_done(part, new, compare_parts(part, new))


def is_within(one, two, mm):
    for leg in leg_names(one):
        a, b = (ring_of(leg_outline(p, leg).contour, 1.0) for p in (one, two))
        if a.hausdorff_distance(b) > mm:
            return False
    return True


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_a_turned_piece_is_said_to_be_that(data):
    part = data.draw(parts())
    way = data.draw(st.sampled_from(turns(part)))
    told = compare_parts(part, data.draw(respelled(way)))
    assert told.hand == ""
    if told.changes:  # else it looks the same both ways
        assert [(c.kind, c.weight) for c in told.changes] == [("turned", "paper")]
        assert told.changes[0].text.startswith("same piece, now drawn turned")
        assert told.lie != "as before"
    assert_done(part, way, compare_parts(part, way))


@given(st.data())
@settings(max_examples=20, deadline=None)
def test_an_opposite_hand_is_never_taken_for_the_same_piece(data):
    part = data.draw(parts())
    other = mirrored(part)
    assume(opposite_hand(part, other))
    told = compare_parts(part, other)
    assert told.weight == "metal"
    assert "mirror image" in told.hand
    assert_done(part, other, told)


def test_a_turned_piece_with_one_hole_moved_is_told_as_both():
    new = edited(turned(CLIP), "b", 1, x_mm=130.0)
    told = compare_parts(CLIP, new)
    assert told.lie == "turned end for end"
    assert [c.kind for c in told.changes] == ["turned", "moved"]
    assert told.changes[0].text == "looks like the same piece, now drawn turned end for end"
    assert told.weight == "metal"
    assert_done(CLIP, new, told)


def test_an_opposite_hand_is_seen_wherever_its_stamp_is():
    stamp = Stamp(id="a5", x_mm=50.0, from_heel_mm=20.0, height_mm=10.0)
    one = moved(with_features(CLIP, "a", (*CLIP.legs.a.features, stamp)[1:]), "b", 10.0)
    other = with_features(
        mirrored(one),
        "a",
        [f for f in mirrored(one).legs.a.features if not isinstance(f, Stamp)] + [stamp],
    )
    assert compare_parts(one, other).hand == (
        "is now the mirror image of what it was: check the hand"
    )


def test_a_flat_turned_over():
    flat = Part(
        mark="F1",
        length_mm=200,
        section=Flat(width_mm=100, thickness_mm=10),
        legs=FlatLegs(face=Leg(features=(Hole(id="f1", x_mm=30, y_mm=20, diameter_mm=22),))),
        ends={"start": {"face_deg": 10.0}, "far": {}},
    )
    told = compare_parts(flat, turned_over(flat))
    assert [c.text for c in told.changes] == ["same piece, now drawn turned over"]


# In shop words.


def told_texts(old, new):
    return [change.text for change in compare_parts(old, new).changes]


def moved(part, leg, by_x=0.0, by_y=0.0, numbers=None):
    features = [
        f.model_copy(update={"x_mm": on_grid(f.x_mm + by_x), "y_mm": on_grid(f.y_mm + by_y)})
        if numbers is None or n in numbers
        else f
        for n, f in enumerate(leg_of(part, leg).features)
    ]
    return with_features(part, leg, features)


def longer(part, mm):
    return part.model_copy(update={"length_mm": on_grid(part.length_mm + mm)})


def with_twin(part):
    first = leg_of(part, "a").features[0]
    return with_features(part, "a", (*part.legs.a.features, first.model_copy(update={"id": "a9"})))


COPE = Cope(end="start", side="toe", along_mm=50.8, across_mm=25.4, radius_mm=12.7)

WORDS = [
    (moved(CLIP, "a", 6.35, numbers={1}), ["leg a: hole 13/16 at 4-1/4 moved to 4-1/2"]),
    (moved(CLIP, "b", 0, 6.35), ["leg b: all 4 slots 13/16 x 1 at gauge 2 moved to gauge 2-1/4"]),
    (
        moved(CLIP, "b", 0, 6.35, numbers={0, 1, 2}),
        ["leg b: 3 slots 13/16 x 1 at 1-1/4, 4-1/4, 7-1/4 at gauge 2 moved to gauge 2-1/4"],
    ),
    (
        moved(CLIP, "a", 0, -3.175, numbers={3}),
        ["leg a: hole 13/16 at 10-1/4 moved from gauge 2-1/2 to gauge 2-3/8"],
    ),
    (
        moved(CLIP, "a", 3.175),
        ["leg a: all 4 holes 13/16 moved 1/8 towards the far end"],
    ),
    (
        moved(CLIP, "a", -3.175, 1.5875, numbers={1, 2}),
        [
            (
                "leg a: 2 holes 13/16 at 4-1/4, 7-1/4, gauge 2-1/2 moved 1/8 towards the start end"
                " and 1/16 towards the toe"
            )
        ],
    ),
    (longer(CLIP, 12.7), ["length 11-1/2 became 12"]),
    (
        moved(longer(CLIP, 12.7), "a", 12.7, numbers={3}),
        [
            "length 11-1/2 became 12",
            "leg a: hole 13/16 at 10-1/4 moved to 10-3/4, with the far end",
        ],
    ),
    (
        moved(moved(longer(CLIP, 12.7), "a", 12.7), "b", 12.7),
        [
            "length 11-1/2 became 12",
            "leg a: all 4 holes 13/16 moved 1/2 towards the far end, with the far end",
            "leg b: all 4 slots 13/16 x 1 moved 1/2 towards the far end, with the far end",
        ],
    ),
    (
        edited(CLIP, "a", 2, diameter_mm=23.8125),
        ["leg a: hole 13/16 at 7-1/4 became 15/16"],
    ),
    (
        edited(edited(CLIP, "a", 2, diameter_mm=23.8125), "a", 0, diameter_mm=23.8125),
        ["leg a: 2 holes 13/16 at 1-1/4, 7-1/4, gauge 2-1/2 became 15/16"],
    ),
    (
        edited(CLIP, "a", 2, diameter_mm=23.8125, x_mm=190.5),
        ["leg a: hole 13/16 at 7-1/4 moved to 7-1/2 and became 15/16"],
    ),
    (
        edited(CLIP, "b", 0, angle_deg=0.0),
        ["leg b: slot 13/16 x 1 at 1-1/4 now lies along the leg (was across the leg)"],
    ),
    (
        with_leg(CLIP, "a", trims=(COPE,)),
        ["leg a: cope at the start end, toe (2 long x 1 deep, radius 1/2) added"],
    ),
    (
        with_features(CLIP, "a", CLIP.legs.a.features[:3]),
        ["leg a: hole 13/16 at 10-1/4, gauge 2-1/2 removed"],
    ),
    (
        with_features(CLIP, "b", ()),
        ["leg b: all 4 slots 13/16 x 1 removed"],
    ),
    (
        with_twin(CLIP),
        ["leg a: hole 13/16 at 1-1/4, gauge 2-1/2 added (one more at the same place)"],
    ),
    (CLIP.model_copy(update={"quantity": 30}), ["quantity 24 became 30"]),
    (CLIP.model_copy(update={"revision": "B"}), ["revision A became B"]),
    (CLIP.model_copy(update={"revision": None}), ["revision is no longer said (was A)"]),
    (CLIP.model_copy(update={"grade": "A572-50"}), ["grade A36 became A572-50"]),
    (
        CLIP.model_copy(update={"finish": "paint"}),
        ["finish is now \u201cpaint\u201d (was not said)"],
    ),
    (
        CLIP.model_copy(
            update={"section": Angle(leg_a_mm=101.6, leg_b_mm=76.2, thickness_mm=9.525)}
        ),
        ["section L4x3-1/2x3/8 became L4x3x3/8"],
    ),
    (
        CLIP.model_copy(
            update={
                "waivers": (
                    Waiver(rule="spacing-short", leg="a", feature="a2", value=40, reason="RFI 1"),
                )
            }
        ),
        ["waiver of spacing-short on leg a, hole 13/16 at 4-1/4, added: \u201cRFI 1\u201d at 40"],
    ),
]


@pytest.mark.parametrize(("new", "said"), WORDS, ids=[said[-1][:60] for _, said in WORDS])
def test_what_a_checker_would_say_on_the_phone(new, said):
    assert told_texts(CLIP, new) == said
    assert_done(CLIP, new, compare_parts(CLIP, new))


def test_everything_on_a_leg_moved():
    mixed = with_features(
        CLIP,
        "a",
        (*CLIP.legs.a.features, CLIP.legs.b.features[0].model_copy(update={"id": "a5"})),
    )
    assert told_texts(mixed, moved(mixed, "a", 3.175)) == [
        "leg a: everything on it (4 holes 13/16, slot 13/16 x 1) moved 1/8 towards the far end"
    ]


def test_metric_parts_speak_millimetres():
    metric = CLIP.model_copy(update={"units": "mm"})
    assert told_texts(CLIP, moved(metric, "a", 5.0, numbers={0})) == [
        "leg a: hole 20.6375 at 31.75 moved to 36.75"
    ]


@pytest.mark.parametrize("count", [1, 2, 5, 12])
def test_a_pattern_shifted_by_less_than_its_pitch_is_one_sentence(count):
    holes = [Hole(id=f"a{n}", x_mm=50.0 + 70.0 * n, y_mm=50, diameter_mm=22) for n in range(count)]
    part = with_features(longer(CLIP, 800), "a", holes)
    for step in (0.5, 10.0, 34.0, -20.0):
        told = compare_parts(part, moved(part, "a", step))
        (change,) = told.changes
        assert len(change.items) == count
        assert all(
            math.isclose(item.new["x_mm"] - item.old["x_mm"], step, abs_tol=2e-6)
            for item in change.items
        )


def test_many_features_are_told_quickly():
    holes = [
        Hole(id=f"a{n}", x_mm=30.0 + 10.0 * (n // 4), y_mm=20.0 + 20 * (n % 4), diameter_mm=5)
        for n in range(2000)
    ]
    part = with_features(longer(CLIP, 30000), "a", holes)
    start = time.process_time()
    shifted = compare_parts(part, moved(part, "a", 1.0))
    scattered = compare_parts(
        part,
        with_features(
            part,
            "a",
            [
                h.model_copy(update={"x_mm": on_grid(h.x_mm + (n * 7919 % 900) / 100 + 0.02)})
                for n, h in enumerate(holes)
            ],
        ),
    )
    assert time.process_time() - start < 10
    assert len(shifted.changes) == 1
    assert sum(len(c.items) for c in scattered.changes if c.kind == "moved") > 1900
