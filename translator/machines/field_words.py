"""What each field of a machine profile means, for its schema and its messages."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        # the machine
        "Machine.name": "Name of the machine, as reports print it.",
        "remarks": "Remarks for people.",
        "placements": "Ways to lay an angle into the machine, in the order they are tried.",
        "datum": "Where the machine counts from.",
        "angles": "Angles that it takes; absent = none.",
        "flats": "Flats that it takes; absent = none.",
        "piece_length": "Shortest and longest piece.",
        "stock_length": "Shortest and longest bar.",
        "stations": "Punches and drills.",
        "hole_size_tolerance_mm": "How far a tool's size may be from that of a hole.",
        "cut_off": "How the piece is parted from the bar; absent = pieces come cut to length.",
        "grip": "What feeds the bar; absent = nothing that is in the way.",
        "marker": "What stamps letters; absent = nothing.",
        "second_work": "Work that the shop does on the piece after this machine.",
        "steels": "Highest tensile strengths that the shop reckons with.",
        "assumed_grade": "Grade taken for a part that states none.",
        "times": "Speeds and times of the machine as a whole.",
        # sizes
        "leg": "Size of either leg.",
        "thickness": "Thickness.",
        "width": "Width.",
        "least_mm": "Least length.",
        "most_mm": "Greatest length; absent = no limit.",
        "ThicknessLimit.most_mm": "Thickest steel.",
        "grade": "Steel grade; absent = any that is not named beside it.",
        "Steel.grade": "Steel grade.",
        "tensile_most_mpa": "Highest tensile strength in MPa.",
        # how a bar lies
        "lead_end": "End of the piece that goes in first.",
        "heel": 'Where the heel lies: "down", both legs rise from it, or "up", both hang from it.',
        "leg_a": "Side that leg a lies on, seen looking the way the bar travels.",
        "side": "Side of the machine, seen looking the way the bar travels.",
        "along": "End that lengths are measured from.",
        "across": "Edge that gauges are measured from.",
        "gauge_at_datum_mm": "Gauge that is shown when a tool stands at that edge.",
        "jaw_length_mm": "Length of bar that the jaw holds.",
        "Grip.from_heel": "Zone of the leg that the jaw holds, from the heel.",
        "tail_mm": "Length at the trailing end that can't be brought under the tools.",
        "can_regrip": "Whether the carriage can let go and take the bar again.",
        "travel_mm": "How far the carriage goes without regripping.",
        # stations and tools
        "Station.name": "Name of the station, one of a kind in the machine.",
        "x_mm": "Place along the machine from machine zero, positive the way the bar travels.",
        "process": "How it makes holes.",
        "enters": "Face of the leg that the tool enters.",
        "from_heel": "Where the tool's centre can stand, from the heel.",
        "from_toe": "Where the tool's centre can stand, from the toe.",
        "clearances": "Steel that must stand beside a hole.",
        "die_to_other_leg_mm": "From the hole's edge to the inside face of the other leg, with"
        " the die inside.",
        "stripper_to_other_leg_mm": "The same with the tool and its stripper or foot inside.",
        "die_to_hole_mm": "Between the edges of two holes, for the die.",
        "stripper_to_hole_mm": "Between the edges of two holes, for the stripper.",
        "die_to_edge_mm": "From the hole's edge to the toe, for the die.",
        "force_kn": "Force of the press in kN.",
        "shear_factor": "Shear strength over tensile strength, for the load on the press.",
        "approach_time_s": "Time to bring a tool to the steel and back.",
        "tools": "Tools of the station, in the order they are tried.",
        "number": "Number of the tool, one of a kind in the station.",
        "shape": "What the tool makes; centre = a punch mark.",
        "place": "Whether it stands in the station or must be fetched from the crib.",
        "change_time_s": "Time to put it in.",
        "thickness_limits": "Thickest steel it takes, by grade; none = not limited.",
        "die_clearance_mm": "How much larger its die is than the punch.",
        "cutting_speed_m_per_min": "Cutting speed of a drill.",
        "feed_mm_per_rev": "Feed of a drill in each turn.",
        "stroke_time_s": "Time of one hit.",
        "diameter_mm": "Diameter.",
        "several_hits": "Whether it may make slots of its width in several hits.",
        "width_mm": "Width.",
        "length_mm": "Overall length.",
        "angle_deg": "Direction of the long axis from the way the bar travels, positive towards"
        " the toe.",
        "turns": "Whether it can be set to any direction.",
        # cutting off
        "kind": "What it is.",
        "cut": 'What a shear does between two pieces: a "single" cut, or it takes a "slug" out.',
        "slug_mm": "Length of the slug.",
        "kerf_mm": "Width of the saw's kerf.",
        "capacities": "Largest cross-section it parts, by grade; none = not limited.",
        "area_mm2": "Area of the cross-section.",
        "front_trim_mm": "Length trimmed off the front of a bar.",
        "least_hole_to_cut_mm": "Least steel between a hole's edge and the cut.",
        "Shear.angles": "How far it can be swung; absent = square only.",
        "Saw.angles": "How far it can be swung; absent = square only.",
        "left": "Swing on the left side; absent = square only.",
        "right": "Swing on the right side; absent = square only.",
        "compound": "Whether it can be swung on both sides at once.",
        "least_deg": "Least angle from the square.",
        "most_deg": "Greatest angle from the square.",
        "cut_time_s": "Time of a cut.",
        "feed_mm2_per_s": "Cross-section that the saw cuts in a second.",
        # marking
        "heights_mm": "Heights of letters it has.",
        "characters": "Letters it has; absent = any.",
        "Marker.from_heel": "Where the edge of the letters nearest the heel can stand.",
        "keep_out_mm": "Least distance of the letters to holes and ends.",
        "letter_width": "Width of a letter with its gap as a share of its height.",
        "Marker.turns": "Whether it can write across the bar too.",
        "time_s": "Time of a stamp, besides its letters.",
        "character_time_s": "Time of each letter.",
        # times
        "feed_speed_mm_per_s": "Greatest speed of the bar along the machine.",
        "feed_acceleration_mm_per_s2": "Its acceleration.",
        "gauge_speed_mm_per_s": "Speed of a tool across a leg.",
        "settle_time_s": "Time to come to rest and clamp at a stop.",
        "regrip_time_s": "Time to let go and take the bar again.",
        "load_time_s": "Time to load a bar.",
        "unload_time_s": "Time to take a bar's pieces and rest away.",
        "attended_time_s": "How long a person is needed for one bar.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "$schema": "Schema of this document, for editors.",
        "format": "Name of this format.",
        "version": "Version of this format; the number before the point changes when an old"
        " reader would misread a new document.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "machine": "The machine.",
    }
)
"""Fields of the document itself."""
