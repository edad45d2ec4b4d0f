"""What each field of a part document means, for its schema. Lengths are millimetres."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        "Part.mark": "Piece mark, the name of the piece on the drawing.",
        "Part.quantity": "Pieces to make.",
        "Part.grade": "Steel grade as the source spells it.",
        "Part.length_mm": "Overall length on the outer faces, between the ends' outermost points.",
        "Part.section": "Cross-section; its kind decides the legs and the ends.",
        "Part.legs": 'An angle has the legs "a" and "b", a flat the one leg "face".',
        "Part.ends": "End cuts that are not square.",
        "Part.title": "What the piece is, in words.",
        "Part.order": "Order the piece belongs to; with the mark it is the key of the part.",
        "Part.drawing": "Drawing number.",
        "Part.revision": "Revision of the part; a newer one supersedes.",
        "Part.phase": "Phase of the delivery.",
        "Part.lot": "Lot within the phase.",
        "Part.finish": "Surface finish.",
        "Part.remarks": "Remarks for the shop.",
        "Part.second_work": "Work to be done after the machine.",
        "Part.units": "Unit of the source, for drawings and lists; lengths here stay mm.",
        "Part.stated": "Figures that the source states; what is computed stands under computed.",
        "Part.waivers": "Findings accepted beforehand.",
        "Part.carried": "Lines of the source that no field holds, as they stood.",
        "designation": "The trade's name of the section; absent when it was given by sizes alone.",
        "leg_a_mm": "Size of leg a across, from the heel to the toe.",
        "leg_b_mm": "Size of leg b across, from the heel to the toe.",
        "width_mm": "Width across.",
        "thickness_mm": "Thickness.",
        "root_radius_mm": "Inside fillet between the legs; 0 where sharp or not known.",
        "toe_radius_mm": "Rounding of the inside edge of each toe; 0 where sharp or not known.",
        "a": "The leg of the section's first size.",
        "b": "The leg of the section's second size.",
        "face": "The one face of a flat.",
        "features": "Holes, slots, openings and marks, in the order of the source.",
        "trims": "Cuts that change the outline of this leg.",
        "start": "The end at x = 0.",
        "far": "The end at x = length.",
        "leg_a_deg": "Cut's trace on leg a against the square, positive = long at the toe.",
        "leg_b_deg": "Cut's trace on leg b against the square, positive = long at the toe.",
        "face_deg": "Angle of the cut from the square, positive = long at the upper edge.",
        "id": "Name of the feature, one of a kind in the part; by default leg and number (a1).",
        "kind": "What it is.",
        "x_mm": "Along the piece from the start end.",
        "y_mm": "From the heel towards the toe; of a flat from the lower edge.",
        "Stamp.x_mm": "Left end of the text as read, along the piece from the start end.",
        "diameter_mm": "Diameter; of a tapped hole the size of the thread.",
        "depth_mm": "Depth from the outer face; absent = through.",
        "thread": "Hand of the thread of a tapped hole; absent = not tapped.",
        "countersink_diameter_mm": "Diameter of the countersink on the outer face.",
        "countersink_angle_deg": "Whole angle of the countersink's cone.",
        "Slot.length_mm": "Overall length, round ends included.",
        "Slot.angle_deg": "Direction of the long axis from +x, positive towards the toe.",
        "Stamp.angle_deg": "Direction of reading from +x, positive towards the toe.",
        "bolt": "The bolt meant: M20, or inches as 3/4 or 1-1/8; absent = not said.",
        "purpose": "A hole that no bolt goes through; absent = not said.",
        "process": "A wish of the designer on how it is made; absent = left to the shop.",
        "contour": "Corners, closed from the last to the first.",
        "line": "Corners of the line.",
        "bulge": "Tangent of a quarter of the arc's angle of the edge from this corner to the next,"
        " positive where it turns from +x towards the toe (y up: counter-clockwise); 0 = straight.",
        "method": "How the line is put on the steel.",
        "closed": "Whether the line runs back to its first corner.",
        "text": "The letters; absent = the piece mark.",
        "from_heel_mm": "Edge of the letters nearest the heel, measured from the heel.",
        "height_mm": "Height of the letters.",
        "may_move": "Whether the shop may put it elsewhere.",
        "end": "The end it is cut at.",
        "side": 'Edge it is cut from: an angle\'s "heel" or "toe", a flat\'s "lower" or "upper".',
        "along_mm": "Size along the piece, from the outermost point of the end on this leg.",
        "across_mm": "Size across the leg, from the edge named.",
        "Cope.radius_mm": "Radius of the inside corner; 0 = sharp.",
        "Rounding.radius_mm": "Radius of the corner.",
        "Notch.radius_mm": "Radius of the inside corners; 0 = sharp.",
        "x_from_mm": "Where the notch begins along the piece.",
        "x_to_mm": "Where the notch ends along the piece.",
        "mass_per_metre_kg": "Mass of a metre of the section.",
        "paint_area_per_metre_m2": "Paint area of a metre of the section.",
        "saw_length_mm": "Length to set at the saw.",
        "rule": "Name of the rule.",
        "leg": "Leg it speaks of; absent = the part as a whole.",
        "feature": "Id of the feature it speaks of; absent = the part as a whole.",
        "value": "Figure accepted, in the rule's unit; absent = any.",
        "reason": "Why it is accepted.",
        "by": "Who accepted it.",
        "until_revision": "Revision with which it lapses.",
        "until_date": "Day after which it lapses.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "format": "Name of this format.",
        "version": "Version of this format; the number before the point changes when an old"
        " reader would misread a new document.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "part": "What was designed.",
        "computed": "What follows from the part by geometry and tables; never the other way round.",
    }
)
"""Fields of the document itself."""

COMPUTED: Final = MappingProxyType(
    {
        "mass_kg": "Mass as billed: mass per metre times length.",
        "net_mass_kg": "Mass of the steel that is left after all cuts and holes.",
        "mass_per_metre_kg": "Mass of a metre: published for a listed section, else from its area.",
        "section_area_mm2": "Area of the cross-section with its radii.",
        "paint_area_m2": "Surface to paint.",
        "net_section": "What is left of the section along the worst way across through its holes;"
        " geometry, not design.",
        "aisc": "A hole counts 1/16 in. wider than it is, 2 mm where the part's units are mm (AISC"
        " 360 B4.3b).",
        "en": "A hole counts as wide as it is (EN 1993-1-1 6.2.2.2).",
        "net_area_mm2": "Area of the section less the holes of the way, plus s2 t / 4g for each"
        " step of s along and g across; across the heel g is g1 + g2 - t.",
        "path": "The holes of the way, from the toe of leg a to the toe of leg b; of a flat from"
        " the lower edge.",
        "legs": "What follows for each leg.",
        "face_area_gross_mm2": "Area inside the outline on the outer face.",
        "face_area_net_mm2": "The same less holes, slots and openings that go through.",
        "outline": "The leg's outline with its arcs, closed from the last corner to the first; from"
        " the heel at the start end along the heel first.",
        "stops": "Places along the piece where features of either leg lie within 0.05 mm.",
        "x_mm": "Along the piece from the start end, of the stop's first feature.",
        "operations": "Features made at this stop.",
        "leg": "Leg of the feature.",
        "feature": "Id of the feature.",
    }
)
"""Fields of the computed block."""
