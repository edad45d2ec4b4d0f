"""What each field of a cutting plan means, for its schema."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        # the plan
        "machine": "Name of the machine that the bars are cut on.",
        "options": "What the plan was made under.",
        "groups": "What was planned together: one section and grade each.",
        "marks": "What was asked of each mark, and how many of its pieces lie on bars.",
        "bars": "Bars in the order of loading.",
        "unplaced": "Pieces that are on no bar, and why.",
        "left": "The stock that is left when all bars are cut.",
        "remarks": "What else a person should know.",
        # options
        "cut": "How pieces are parted: sawn, a slug punched out, or a single shear cut.",
        "PlanOptions.loss_mm": "What a square cut takes of the bar.",
        "front_trim_mm": "Length that is cut off the leading end before the first piece.",
        "tail_mm": "Length at the trailing end that the machine can't feed.",
        "least_remnant_mm": "Shortest drop that goes back into stock.",
        "remnants": "Remnants are used first, like any bar, or kept.",
        "shared_mitres": "Whether one mitre cut may make the ends of two pieces.",
        "phases": "Phases that were asked for; none = all.",
        # names
        "number": "Number, counted from 1.",
        "PlannedPiece.number": "Place on the bar, counted from 1 at the lead end.",
        "PlannedBar.number": "Place in the order of loading.",
        "order": "Order that the mark belongs to.",
        "mark": "Piece mark.",
        "revision": "Revision of the part.",
        "title": "What the part is called.",
        "source": "File that the part stands in.",
        "phase": "Phase of the work.",
        "lot": "Lot.",
        "priority": "The greater, the earlier its bars are loaded.",
        "section": "Section, the longer leg first.",
        "grade": "Steel grade; absent = none stated.",
        # a piece on a bar
        "index": "Which piece of its mark in this plan.",
        "PlannedPiece.count": "How many pieces of its mark this plan has.",
        "length_mm": "Length.",
        "lead_mm": "Bar coordinate of the outermost point of the end that leads.",
        "placement": "How the piece lies: the end that leads, the heel, the side of leg a.",
        "lead_end": "End of the piece that leads.",
        "PlannedBar.lead_end": 'End of the bar that leads; "unmarked" = the end with the heat'
        " number goes in last, so that the drop keeps it.",
        "heel": 'Where the heel lies: "down" or "up".',
        "leg_a": "Side that leg a lies on, seen looking the way the bar travels.",
        "long_leg": "Side that the longer leg lies on; absent where both are alike.",
        # a cut
        "kind": "How the cut is made.",
        "Drop.kind": "Whether it goes back into stock.",
        "Unplaced.kind": "Why in one word.",
        "serves": "Which ends it makes: of the piece ahead, of the piece behind, of both, none.",
        "ahead": "Number of the piece whose trailing end it makes.",
        "behind": "Number of the piece whose leading end it makes.",
        "heel_mm": "Bar coordinate, on the heel line, of the cut's plane nearer the lead end.",
        "loss_mm": "What the cut takes along the bar.",
        "left_deg": "Swing on the left side, positive = farther towards the lead end at the toe.",
        "right_deg": "Swing on the right side, counted alike.",
        "is_shared_mitre": "Whether one mitre cut makes the ends of two pieces.",
        # a bar
        "group": "Number of the group.",
        "pattern": "The same on bars of a group that are cut alike.",
        "stock": "Line of the stock list, or remnant, that it is.",
        "is_remnant": "Whether it is a remnant.",
        "is_bought": "Whether it is to be bought: none of those on hand.",
        "measured_mm": "Length as measured on the bar.",
        "heat": "Heat number.",
        "certificate": "Mill certificate.",
        "location": "Where it lies.",
        "PlannedBar.pieces": "Pieces in order from the lead end.",
        "cuts": "Cuts in order from the lead end.",
        "drop": "What is left of the bar behind the last cut.",
        "Drop.length_mm": "Length with the whole section, dead length and all.",
        "label": "What is written on it: its id when it comes back into stock.",
        "is_square": "Whether its cut end is square.",
        # a group
        "units": "Units that its parts were drawn in.",
        "mass_per_metre_kg": "Mass of a metre of the section.",
        "PlannedGroup.pieces": "Pieces on its bars.",
        "PlannedGroup.bars": "Bars that are loaded.",
        "patterns": "Different ways in which its bars are cut.",
        "stock_mm": "Length of its bars together.",
        "pieces_mm": "Length of its pieces together.",
        "cost_unit": "Unit of cost and bounds.",
        "cost": "What the plan costs.",
        "lower_bound": "No plan under the same rules costs less.",
        "gap_percent": "How much more than that it costs.",
        "method": "How good the plan is known to be.",
        "note": "Why it is not known to be the best; empty where it is.",
        "without_sharing": "Cost of the plan without shared mitre cuts, where they were asked for.",
        # a mark, what is left out, stock
        "quantity": "Quantity of the part.",
        "done": "Pieces cut already.",
        "recut": "Pieces cut again because some were spoilt.",
        "planned": "Pieces on the bars of this plan.",
        "fingerprint": "SHA-256 of what makes the piece what it is, to know a changed part.",
        "second_work": "Work left to do on each piece after the machine.",
        "Unplaced.count": "How many pieces.",
        "why": "Why, in a sentence.",
        "id": "Id of the remnant, or of the line.",
        "StockLine.count": "How many; absent = as many as are wanted.",
        "price": "Price of one bar.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "$schema": "Where the schema is.",
        "format": "What this document is.",
        "version": "Version of the form.",
        "caution": "What the plan is not.",
        "plan": "The cutting plan.",
    }
)
"""Meaning of what stands around the plan."""
