"""What each field of a bar program means, for its schema."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        # the bar
        "machine": "Name of the machine.",
        "bar_id": "Id of the bar, as the file and the labels carry it.",
        "bar": "Place of the bar in the order of loading.",
        "stock": "Line of the stock list, or the remnant, that the bar is.",
        "heat": "Heat number.",
        "certificate": "Certificate of the steel.",
        "location": "Where the bar lies in the yard.",
        "is_remnant": "Whether it is a remnant (drop) of an earlier bar.",
        "Program.length_mm": "Length of the bar by the stock list.",
        "measured_mm": "Length as measured; absent: measure the bar before it is loaded.",
        "least_length_mm": "Do not run the program on a bar shorter than this.",
        "section": "Section.",
        "grade": "Steel grade.",
        "units": "Unit that the author of the parts wrote in; lengths here are millimetres.",
        "thickness_mm": "Thickness of the steel.",
        "left_leg_mm": "Size of what lies on the left side; absent = nothing does.",
        "right_leg_mm": "Size of what lies on the right side; absent = nothing does.",
        "heel": 'Where the heel lies: "down", both legs rise from it, or "up".',
        "Program.lead_end": 'Which end of the bar goes in first: "either", or "unmarked", the one'
        " without the heat number, so that the drop keeps it.",
        "front_trim_mm": "Length trimmed off the front.",
        "tail_mm": "Length at the trailing end that can't be brought under the tools.",
        "drop": "What is left of the bar.",
        "pieces": "Pieces, from the lead end on.",
        "tools": "Tools that the program uses.",
        "steps": "What is done, in order. None when anything is refused.",
        "refused": "Why the program can't be made; absent = it can.",
        "remarks": "Remarks for people.",
        "ProgramDrop.length_mm": "Length with the whole section, at its shortest.",
        "ProgramDrop.kind": "Whether it goes back into stock, to scrap, or there is none.",
        "label": "What is written on it: its id in the stock list.",
        # pieces
        "ProgramPiece.number": "Number of the piece on the bar, from 1 at the lead end.",
        "order": "Order of the part.",
        "mark": "Piece mark.",
        "revision": "Revision of the part.",
        "index": "Which of all pieces of its mark in the plan it is.",
        "count": "How many pieces of its mark the plan has.",
        "length_mm": "Length of the piece.",
        "lead_mm": "Bar coordinate of its outermost point at the leading end.",
        "trail_mm": "Bar coordinate of its outermost point at the trailing end.",
        "placement": "How it lies.",
        "lead_end": "End of the piece that goes in first.",
        "leg_a": "Side that its leg a lies on, seen looking the way the bar travels.",
        "source": "Where it is written.",
        "second_work": "Work on the piece that this machine does not do. None of it is dropped.",
        "what": "The work in a few words.",
        "SecondWork.why": "What there is to say about it.",
        "element": "Path of the element in the part.",
        "file": "File.",
        "line": "Line, counted from 1.",
        # steps
        "kind": "What it is.",
        "feed_mm": "Where the lead end of the bar stands along the machine, from machine zero,"
        " positive the way the bar travels; that end may have been cut off long since.",
        "Move.feed_mm": "Where the lead end of the bar is brought to.",
        "carriage_mm": "How far the carriage stands from its rearmost place; absent where the"
        " profile gives it no travel, or there is none.",
        "from_mm": "Bar coordinate of the jaw's foremost edge.",
        "to_mm": "Bar coordinate of the jaw's other edge.",
        "is_regrip": "Whether the carriage lets go first.",
        "Stop.number": "Number of the stop, from 1.",
        "counter_mm": "What of the bar lies beyond machine zero, counted from the end that the"
        " profile's datum names.",
        "operations": "What is done while the bar stands still, in this order.",
        "instruction": "What to do, as a sentence.",
        "Measure.length_mm": "Length to be found.",
        # operations
        "process": '"punch", "drill", "mill" (in at this place, and on to `to_bar_mm`), or'
        ' "mark": only its centre.',
        "station": "Name of the station.",
        "tool": "Number of the tool; absent where a drill of any size spots a centre.",
        "side": "Side of the machine that the leg lies on.",
        "ProgramTool.side": "Side of the machine that the station reaches.",
        "enters": "Face of the leg that the tool enters.",
        "shape": "Shape of the tool.",
        "diameter_mm": "Diameter of a round tool.",
        "width_mm": "Width of an oblong tool.",
        "Operation.length_mm": "Overall length of an oblong tool.",
        "ProgramTool.length_mm": "Overall length of an oblong tool.",
        "direction_deg": "Direction of an oblong tool's long axis from the way the bar travels,"
        " positive towards the toe.",
        "bar_mm": "Bar coordinate of the tool's middle; of a stamp, the left end of its text as"
        " read.",
        "from_heel_mm": "Gauge from the heel, on a flat from the edge at the heel's place.",
        "Stamping.from_heel_mm": "Gauge of the point that the letters are placed by: at the left"
        " end as read, on the side that the drawing calls nearest the heel.",
        "gauge_mm": "The same from the machine's own datum: what it shows.",
        "Stamping.gauge_mm": "`nearest_mm` from the machine's own datum: what it shows.",
        "to_bar_mm": "Where a milling cutter moves on to; the bar moves with it.",
        "to_from_heel_mm": "Where a milling cutter moves on to, from the heel.",
        "to_gauge_mm": "The same from the machine's own datum.",
        "depth_mm": "Depth; absent = through. A mark has none.",
        "hit": "Which hit of those that make the feature.",
        "hits": "How many hits make it.",
        "reamed_to_mm": "Size that second work reams it to.",
        "piece": "Number of the piece on the bar.",
        "leg": "Leg of the piece, as drawn.",
        "feature": "Id of the feature in the part.",
        "x_mm": "The same place on the piece, from its start end.",
        "y_mm": "The same place on the piece, from the heel (on a flat, from the lower edge).",
        "text": "Letters.",
        "height_mm": "Height of the letters.",
        "nearest_mm": "Gauge of the letters' edge nearest the heel.",
        "reading_deg": "Direction in which the text reads, from the way the bar travels, positive"
        " towards the toe.",
        "is_moved": "Whether it stands elsewhere than drawn, since the part lets it.",
        # cuts
        "type": 'A "saw" takes a kerf, a shear takes a "slug" or nothing ("single").',
        "serves": "Whose end it makes: of the piece ahead, of the one behind, of both, or none.",
        "ahead": "Number of the piece ahead whose end it makes.",
        "behind": "Number of the piece behind whose end it makes.",
        "frees": "Number of the piece that comes off; absent: scrap does.",
        "heel_mm": "Bar coordinate, on the heel line, of the plane nearer the lead end; it stands"
        " at the shear or saw.",
        "loss_mm": "Length along the bar that the cut takes, from that plane on.",
        "left_deg": "Swing on the left side: positive where the plane lies farther the way the"
        " bar travels at the toe than at the heel.",
        "right_deg": "The same on the right side.",
        "is_shared_mitre": "Whether one swung cut makes the ends of two pieces.",
        # tools and refusals
        "is_fetched": "Whether it must be fetched from the crib.",
        "uses": "How often it hits or goes in.",
        "rule": "Name of the fault.",
        "message": "A whole sentence.",
        "remedy": "What would make it possible.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "format": "Name of this format.",
        "version": "Version of this format; the number before the point changes when an old"
        " reader would misread a new document.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "program": "The program of one bar.",
    }
)
"""Fields of the document itself."""
