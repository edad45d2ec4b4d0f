"""Machines: profiles of a shop's machines, and what of a part each of them can make."""

from translator.machines.capable import Capability, capable, capable_as
from translator.machines.handling import Placement
from translator.machines.load import load_machine
from translator.machines.making import Way
from translator.machines.profile import Machine
from translator.machines.reasons import Reason

__all__ = [
    "Capability",
    "Machine",
    "Placement",
    "Reason",
    "Way",
    "capable",
    "capable_as",
    "load_machine",
]
