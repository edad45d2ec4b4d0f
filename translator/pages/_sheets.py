"""What the page knows of one part: facts, both legs drawn with balloons, features, machines."""

from collections.abc import Iterator, Sequence
from typing import Any, Final

from translator.findings import Fit
from translator.geometry.mass import gross_mass_kg
from translator.model import Part, Placed, leg_names, leg_width
from translator.pages._issues import Issue
from translator.pages._layout import Layout, lay_out
from translator.pages._legs import Callout, leg_picture
from translator.pages._picture import Picture, document
from translator.pages._places import Target, targets
from translator.pages._words import (
    both,
    end_words,
    feature_rows,
    leg_words,
    named_length,
    section_words,
)

_WEIGHTS: Final = ("error", "warning", "note", "waived")
_NUMBERS_SHOWN: Final = 3
_MOST_PLACES: Final = 400
"""Places of one leg that get a balloon; the rest are only ringed."""

_FIELDS: Final = (
    ("length", "length"),
    ("section", "section"),
    ("quantity", "quantity"),
    ("grade", "grade"),
    ("mark", "mark"),
)


def sheet(
    placed: Placed, issues: Sequence[Issue], fits: Sequence[Fit], refused: str
) -> dict[str, Any]:
    """Return what the page shows of a part, as dictionaries and lists."""
    part = placed.part
    layout = lay_out(part)
    pointed = {issue.number: _targets(part, issue) for issue in issues}
    unseen = [issue for issue in issues if not pointed[issue.number]]
    return {
        "facts": [[name, value, _about(name, unseen)] for name, value in _facts(placed)],
        "refused": refused,
        "legs": [
            {
                "name": leg_words(leg),
                "caption": f"{leg_words(leg).capitalize()}, outside face, start end left,"
                f" {named_length(leg_width(part.section, leg), part)} across",
                "picture": document(_leg(part, leg, layout, issues, pointed)),
                "rows": feature_rows(part, leg),
            }
            for leg in leg_names(part)
        ],
        "edges": ["from lower", "from upper"]
        if len(leg_names(part)) == 1
        else ["from heel", "from toe"],
        "fits": [[fit.machine, fit.verdict, fit.why] for fit in fits],
        "waivers": list(_waivers(part)),
    }


def _targets(part: Part, issue: Issue) -> tuple[Target, ...]:
    elements = dict.fromkeys(finding.element for finding in issue.findings)
    return tuple(target for element in elements for target in targets(part, element))


def _about(name: str, unseen: Sequence[Issue]) -> list[int]:
    """Return the numbers of the issues that are about a fact and not about a place."""
    element = dict(_FIELDS).get(name)
    return [issue.number for issue in unseen if element and issue.first.element == element]


def _facts(placed: Placed) -> Iterator[tuple[str, str]]:
    part, place = placed.part, placed.places[""]
    yield "file", f"{place.path}:{place.line}"
    yield "section", section_words(part)
    yield "length", both(part.length_mm, part)
    yield "quantity", str(part.quantity)
    said = (
        ("grade", part.grade),
        ("finish", part.finish),
        ("order", part.order),
        ("drawing", part.drawing),
        ("revision", part.revision),
        ("phase", part.phase),
        ("lot", part.lot),
    )
    yield from ((name, value) for name, value in said if value is not None)
    yield "mass", f"{gross_mass_kg(part):.2f} kg as billed"
    yield from (("end", words) for words in end_words(part))
    yield from (("then", words) for words in part.second_work)
    yield from (("remark", words) for words in part.remarks)


def _waivers(part: Part) -> Iterator[str]:
    for waiver in part.waivers:
        place = "".join(
            (
                f" on {leg_words(waiver.leg)}" if waiver.leg else "",
                f" {waiver.feature}" if waiver.feature else "",
            )
        )
        value = "" if waiver.value is None else f" at {waiver.value:g}"
        limits = (
            ("by ", waiver.by),
            ("until revision ", waiver.until_revision),
            ("until ", waiver.until_date),
        )
        more = "".join(f", {word}{text}" for word, text in limits if text)
        yield f"{waiver.rule}{place}{value}: {waiver.reason}{more}"


def _leg(
    part: Part,
    leg: str,
    layout: Layout,
    issues: Sequence[Issue],
    pointed: dict[int, tuple[Target, ...]],
) -> Picture:
    name = next(one for one in leg_names(part) if one == leg)
    at: dict[Target, list[Issue]] = {}
    for issue in issues:
        for target in pointed[issue.number]:
            if target.leg == leg:
                at.setdefault(target, []).append(issue)
    callouts = [
        Callout(
            x=place.x,
            y=place.y,
            text=_label(own),
            kind=_worst(own),
            tag=_tag(own),
            clear_mm=place.clear_mm,
        )
        for place, own in list(at.items())[:_MOST_PLACES]
    ]
    rings = {
        place.feature: (f"ring-{_worst(own)}", _tag(own))
        for place, own in at.items()
        if place.feature
    }
    return leg_picture(part, name, layout, callouts, rings)


def _worst(own: Sequence[Issue]) -> str:
    return min((issue.kind for issue in own), key=_WEIGHTS.index)


def _tag(own: Sequence[Issue]) -> str:
    return " ".join(str(issue.number) for issue in own)


def _label(own: Sequence[Issue]) -> str:
    numbers = ", ".join(str(issue.number) for issue in own[:_NUMBERS_SHOWN])
    more = len(own) - _NUMBERS_SHOWN
    return f"{numbers} +{more}" if more > 0 else numbers
