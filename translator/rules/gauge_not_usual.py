"""A line of holes is not on a usual gauge of its leg.

What it checks: y of each hole and slot for a bolt on a leg of an angle, against the gauges that
the shop lists for that leg or, where it asks for it, the published tables; to 0.5 mm. Legs for
which there is no gauge are not checked. Off until [gauges] is set.

Why: a usual gauge has a stop or a template, fits the other piece and leaves room for a wrench;
another one is often a slip, or was measured from the toe.

What to do: hold the gauge against the drawing. Settings: `[gauges]` with `usual = true`, or the
shop's own, as `"4in" = ["2-1/2in"]`.

Reference: us: AISC Manual Table 1-7A (from open transcriptions); eu: UK handbooks and DIN 997
(from memory)
"""

from collections.abc import Iterator
from typing import Final

from translator.findings import Severity
from translator.model import Angle, leg_width
from translator.rules._facts import Facts, named, on_leg, path_of
from translator.rules._practice import Practice, fits_gauge
from translator.rules._rule import Example, Rule, Violation
from translator.tables.gauges import GAUGE_NEARNESS_MM, LEG_NEARNESS_MM, usual_gauges


def check(facts: Facts) -> Iterator[Violation]:
    """Yield each hole for a bolt that is off the usual gauges of its leg."""
    section = facts.part.section
    if not isinstance(section, Angle):
        return
    for one in facts.bolted:
        width = leg_width(section, one.leg)
        lines, source = _lines(facts.practice, width, one.bolt.code)
        y = one.feature.y_mm
        if lines and not fits_gauge(lines, y, GAUGE_NEARNESS_MM):
            usual = ", ".join(facts.length(line) for line in lines)
            yield Violation(
                message=f"{named(one.feature)} is on gauge {facts.length(y)}; usual on"
                f" {on_leg(one.leg)} of {facts.length(width)}: {usual} ({source})",
                element=path_of(one.leg, one.feature),
                value=y,
                limit=min(lines, key=lambda line: abs(line - y)),
            )


def _lines(practice: Practice, leg_mm: float, code: str) -> tuple[tuple[float, ...], str]:
    """Return the usual gauges of a leg in order, and whose they are."""
    own = [g.lines_mm for g in practice.gauges if abs(g.leg_mm - leg_mm) <= LEG_NEARNESS_MM]
    if own:
        return tuple(sorted({line for lines in own for line in lines})), "the shop's gauges"
    if not practice.usual_gauges:
        return (), ""
    published = usual_gauges(leg_mm, code)
    lines = sorted({line.mm for gauge in published for line in gauge.lines})
    return tuple(lines), "; ".join(dict.fromkeys(g.source.reference for g in published))


def _applies(practice: Practice) -> str:
    if practice.code == "none":
        return 'the practice is "none"'
    is_set = practice.usual_gauges or practice.gauges
    return "" if is_set else "the settings list no gauges"


RULE: Final = Rule(
    name="gauge-not-usual",
    title="a line of holes is not on a usual gauge",
    severity=Severity.WARNING,
    scope="part",
    reference="us: AISC Manual Table 1-7A (from open transcriptions); eu: UK handbooks and DIN 997"
    " (from memory)",
    check=check,
    passing=(
        Example(
            settings="""\
practice = "us"
[gauges]
usual = true
"3in" = ["1-3/4in", "1-7/8in"]
""",
            text="""\
units inch
part C1 {
  section L5x3x3/8
  length 11-1/2
  leg a { holes bolt 5/8 gauge 2, 3-3/4 at 2 }
  leg b { holes bolt 3/4 gauge 1-7/8 at 2, 5 }
}
""",
        ),
    ),
    failing=(
        Example(
            settings="""\
practice = "us"
[gauges]
usual = true
""",
            text="""\
units inch
part C1 {
  section L4x4x3/8
  length 11-1/2
  leg a { holes bolt 3/4 gauge 2-1/4 at 2 }     # <--
  leg b { holes bolt 3/4 gauge 2-1/2 at 5 }
}
""",
        ),
    ),
    applies=_applies,
)
