"""Bolts as a part file spells them, and the hole that one alone stands for."""

import re
from typing import Final

from translator.lengths.characters import plain, shown
from translator.readers.part_text._book import SYNTAX, RefusalError
from translator.syntax.tree import Node

_METRIC: Final = re.compile(r"m ?([1-9][0-9]{0,2})")
_INCH: Final = re.compile(
    r'(?P<whole>[1-9][0-9]?)?(?:[ -]?(?P<part>[1-9][0-9]?/[1-9][0-9]?))? ?(?:"|in)?'
)


def bolt_name(clause: Node) -> str:
    """Return the bolt's name as the part model has it: ``M20``, ``3/4``, ``1-1/8``.

    Raises:
        RefusalError: for anything else.
    """
    written = clause.last_word.text
    typed = plain(written).lower()
    metric = _METRIC.fullmatch(typed)
    if metric is not None:
        return f"M{metric[1]}"
    inch = _INCH.fullmatch(typed)
    if inch is not None and (inch["whole"] or inch["part"]) and typed[:1] != "-":
        return "-".join(part for part in (inch["whole"], inch["part"]) if part)
    raise RefusalError(
        SYNTAX, f"`{shown(written)}` is no bolt: write it like 3/4, 1-1/8 or M20.", clause.extent
    )


def standard_hole(bolt: str, clause: Node) -> float:
    """Return the diameter of a bolt's standard hole in millimetres.

    Bolts named in inches: AISC 360-22 Table J3.3. Metric bolts: EN 1090-2 Table 11, normal
    clearance. Both are kept, with how they were come by, in ``tables/data/bolt_holes.csv``.

    Raises:
        RefusalError: for a bolt that the table has no hole for.
    """
    from translator.tables.holes import standard_hole_mm

    diameter = standard_hole_mm(bolt, "eu" if bolt.startswith("M") else "us")
    if diameter is None:
        raise RefusalError(
            "bolt-without-hole",
            f"No standard hole is known for a bolt {bolt}: write the hole's diameter before it,"
            f" as `holes 10 bolt {bolt}`.",
            clause.extent,
        )
    return diameter
