"""What each field of an estimate means, for its schema."""

from types import MappingProxyType
from typing import Final

FIELDS: Final = MappingProxyType(
    {
        "Estimate.machines": "The estimate of each machine asked for.",
        "common_marks": "Marks that all of the machines can make; 0 for a single machine.",
        "common": "What each machine takes for those, in the order of `machines`.",
        "machine": "Name of the machine.",
        "basis": "What it was reckoned from: the parts alone, or the programs of planned bars.",
        "MachineEstimate.pieces": "Each mark.",
        "MachineEstimate.bars": "Bars that are alike, or each bar of the programs.",
        "setups": "What is done once for each mark, section or tool.",
        "activities": "What the machine's time goes into.",
        "totals": "The whole.",
        "merging": "What is saved when equal marks are set up and measured once.",
        "assumptions": "Figures that the profile lacks and that were taken all the same.",
        "method": "How it is reckoned, in sentences.",
        # a mark
        "order": "Order of the part.",
        "mark": "Piece mark.",
        "revision": "Revision of the part.",
        "source": "File that the part stands in.",
        "Assumed.source": "Where the figure comes from.",
        "units": "Unit that the author wrote in; lengths here are millimetres all the same.",
        "section": "Section.",
        "grade": "Steel grade.",
        "length_mm": "Length of the piece.",
        "EstimatedBars.length_mm": "Length of the bar.",
        "quantity": "Pieces to make.",
        "net_mass_kg": "Mass of a finished piece.",
        "billed_mass_kg": "Mass of a piece as billed: mass per metre times length.",
        "verdict": "What the machine can make of it.",
        "why": "Why it can't make it.",
        "second_work": "What is left to do by hand; no part of any time here.",
        "holes": "Holes and slots of a piece.",
        "stops": "How often the bar stands still for a piece.",
        "cuts": "Cuts of a piece.",
        "seconds": "Machine time in seconds.",
        "EstimatedPiece.seconds": "Machine time of one piece, its cuts with it.",
        "EstimatedBars.seconds": "Machine time of one bar with its pieces, on the average.",
        "pieces_per_hour": "Pieces that an hour of machine time gives; absent where none is taken.",
        # bars and set-ups
        "EstimatedBars.id": "Id of the bar, where it is one.",
        "EstimatedBars.bars": "How many bars.",
        "EstimatedBars.pieces": "Pieces on all of them.",
        "attended_seconds": "How long a person is needed for one bar.",
        "activity": "What the time goes into.",
        "percent": "Share of the whole in percent.",
        "count": "How often.",
        # totals
        "marks": "Marks that are made.",
        "Totals.pieces": "Pieces that are made.",
        "Totals.bars": "Bars that are loaded.",
        "machine_seconds": "Machine time of everything, set-ups with it.",
        "man_seconds": "Time of people: attended bars and set-ups.",
        "net_tonnes": "Mass of the finished pieces in tonnes of 1000 kg.",
        "billed_tonnes": "Mass as billed in tonnes of 1000 kg.",
        "man_hours_per_billed_tonne": "Man-hours for a tonne as billed; absent for no mass.",
        "man_hours_per_billed_short_ton": "Man-hours for 2,000 lb (907.18474 kg) as billed.",
        "man_hours_per_net_tonne": "Man-hours for a tonne of finished pieces.",
        "man_hours_per_net_short_ton": "Man-hours for 2,000 lb of finished pieces.",
        "machine_hours_per_billed_tonne": "Machine hours for a tonne as billed.",
        "machine_hours_per_billed_short_ton": "Machine hours for 2,000 lb as billed.",
        # merging
        "groups": "Groups of marks that are one piece.",
        "EqualMarks.marks": "Their marks.",
        "is_turned": "Whether some of them are drawn the other way round.",
        "setups_saved": "Set-ups and first pieces that are saved.",
        "seconds_saved": "Time that is saved, of machine and people alike.",
        # assumptions
        "what": "What the figure is of.",
        "value": "The figure.",
        "unit": "Its unit.",
        "field": "Field of the machine profile, or option, that would replace it.",
    }
)
"""Field -> meaning; ``Definition.field`` where one name means two things."""

DOCUMENT: Final = MappingProxyType(
    {
        "format": "Name of this format.",
        "version": "Version of this format; the number before the point changes when an old"
        " reader would misread a new document.",
        "caution": "What the checks do not replace; show it where a person reads results.",
        "estimate": "The estimate.",
    }
)
"""Fields of the document itself."""
