"""What the detailer format leaves open: named settings, evidence for them, settling.

A setting is "auto" until a person or the pooled evidence of one writer settles it.
"""

from translator.conventions.evidence import Evidence, Testimony, Weight
from translator.conventions.settings import AUTO, CHOICES, Conventions, with_setting
from translator.conventions.settle import Settled, settle

__all__ = [
    "AUTO",
    "CHOICES",
    "Conventions",
    "Evidence",
    "Settled",
    "Testimony",
    "Weight",
    "settle",
    "with_setting",
]
