"""Machines made from the samples that are odd in one way each, for programs to cope with."""

import copy
import json

from bar_orders import Shop, shop

from translator.machines import load_machine
from translator.source import Source


def changed(name, base, change):
    """A sample machine with something changed in its own JSON."""
    raw = copy.deepcopy(shop(base).raw)
    change(raw)
    document = {"format": "backmark/machine", "version": "1.0", "machine": raw}
    data = json.dumps(document).encode()
    model, findings = load_machine(Source(path=f"{name}.machine.json", data=data))
    assert findings == (), findings
    return Shop(name, model, raw)


def beyond_the_shear(raw):
    """The stations stand beyond the shear: work comes before the cut that is upstream of it."""
    raw["cut_off"]["x_mm"] = -400.0
    raw["grip"]["foremost_x_mm"] = -83.2
    raw["grip"]["clamp_x_mm"] = -450.0


def toe_datum(raw):
    raw["datum"] = {"along": "trailing-end", "across": "toe", "gauge_at_datum_mm": 250.0}


def heel_up(raw):
    raw["placements"] = [
        {"lead_end": "far", "heel": "up", "leg_a": "left"},
        {"lead_end": "start", "heel": "up", "leg_a": "right"},
    ]
    raw["flats"]["side"] = "right"


def nibbles_and_mills(raw):
    """The punch nibbles slots, the drills mill them; one oblong punch turns."""
    for station in raw["stations"]:
        for tool in station["tools"]:
            if tool["shape"] == "round":
                tool["several_hits"] = True
            if tool["shape"] == "oblong":
                tool["turns"] = True


def short_travel(raw):
    """The carriage hardly reaches all tools: several grips from one stop to the next."""
    raw["grip"] |= {"travel_mm": 1700.0}
    raw["grip"].pop("clamp_x_mm")


def clamp_far_back(raw):
    """The clamp stands so far back that it lets go of short bars before the travel is used."""
    raw["grip"]["clamp_x_mm"] = -600.0


def single_cut(raw):
    raw["cut_off"] |= {"cut": "single"}
    raw["cut_off"].pop("slug_mm")


def swung_shear(raw):
    swing = {"least_deg": -45.0, "most_deg": 45.0}
    raw["cut_off"]["angles"] = {"left": swing, "right": swing, "compound": True}


def hand_mitred(raw):
    raw["second_work"].append("mitre")


ODD = {
    "beyond-the-shear": ("punch-and-drill-line", beyond_the_shear),
    "toe-datum": ("punch-and-drill-line", toe_datum),
    "heel-up": ("drill-and-saw-line", heel_up),
    "heel-up-punch": ("punch-and-drill-line", heel_up),
    "nibbles": ("punch-and-drill-line", nibbles_and_mills),
    "mills": ("drill-and-saw-line", nibbles_and_mills),
    "short-travel": ("punch-and-drill-line", short_travel),
    "clamp-far-back": ("punch-and-drill-line", clamp_far_back),
    "single-cut": ("punch-and-drill-line", single_cut),
    "swung-shear": ("punch-and-drill-line", swung_shear),
    "hand-mitred": ("punch-and-drill-line", hand_mitred),
}


def odd(name):
    base, change = ODD[name]
    return changed(name, base, change)
