"""Machines and parts that the tests of machines share; all of them invented."""

import json

from translator.machines import capable, load_machine
from translator.machines.profile import Machine
from translator.model import (
    Angle,
    AngleEnds,
    AngleLegs,
    Flat,
    FlatEnds,
    FlatLegs,
    Hole,
    Leg,
    Part,
    Slot,
    Stamp,
)
from translator.source import Source

L90 = Angle(leg_a_mm=90.0, leg_b_mm=90.0, thickness_mm=10.0, root_radius_mm=11.0)
FB100 = Flat(width_mm=100.0, thickness_mm=10.0)
BOTH = [{"lead_end": "start", "leg_a": "left"}, {"lead_end": "far", "leg_a": "right"}]


def document(machine):
    return json.dumps({"format": "backmark/machine", "version": "1.0", "machine": machine})


def read(text):
    data = text if isinstance(text, bytes) else text.encode()
    return load_machine(Source(path="m.machine.json", data=data))


def machine(**fields):
    """Return a machine that takes everything unless the fields say otherwise."""
    raw = {"name": "Line 1", "angles": {}, "flats": {}, **fields}
    made, findings = read(document(raw))
    assert findings == ()
    assert isinstance(made, Machine)
    return made


def tool(number="4", diameter=22.0, **more):
    return {"number": number, "shape": "round", "diameter_mm": diameter, **more}


def oblong(number="7", width=18.0, length=24.0, **more):
    return {"number": number, "shape": "oblong", "width_mm": width, "length_mm": length, **more}


def punch(*tools, side="both", name="P1", **more):
    tools = tools or (tool(),)
    return {"name": name, "side": side, "process": "punch", "tools": list(tools), **more}


def drill(*tools, side="both", name="D1", **more):
    tools = tools or (tool(),)
    return {"name": name, "side": side, "process": "drill", "tools": list(tools), **more}


def hole(name, x=200.0, y=50.0, diameter=22.0, **more):
    return Hole(id=name, x_mm=x, y_mm=y, diameter_mm=diameter, **more)


def slot(name, x=200.0, y=50.0, width=18.0, length=24.0, **more):
    return Slot(id=name, x_mm=x, y_mm=y, width_mm=width, length_mm=length, **more)


def stamp(name, x=200.0, near=40.0, height=10.0, **more):
    return Stamp(id=name, x_mm=x, from_heel_mm=near, height_mm=height, **more)


def angle(a=(), b=(), trims=(), **fields):
    """Return an angle piece with features on its legs and trims on leg a."""
    given = {
        "mark": "A1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": L90,
        "legs": AngleLegs(a=Leg(features=tuple(a), trims=tuple(trims)), b=Leg(features=tuple(b))),
        "ends": AngleEnds(),
    }
    return Part(**(given | fields))


def flat(*features, trims=(), **fields):
    given = {
        "mark": "F1",
        "grade": "S275JR",
        "length_mm": 400.0,
        "section": FB100,
        "legs": FlatLegs(face=Leg(features=features, trims=tuple(trims))),
        "ends": FlatEnds(),
    }
    return Part(**(given | fields))


def said(one, part):
    """Return what a machine says of a part: rule and sentence of each reason."""
    return [(reason.rule, reason.message) for reason in capable(one, part).reasons]
