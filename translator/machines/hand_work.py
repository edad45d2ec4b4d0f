"""Work that is left to do by hand after the machine, named instead of a plain no."""

from collections.abc import Iterator

from msgspec import Struct

from translator.findings import Severity
from translator.lengths.characters import shown
from translator.machines.lay import Lay
from translator.machines.profile import HandWork
from translator.machines.reasons import Reason, leg_words, length_words, named
from translator.model import (
    Feature,
    Hole,
    LegName,
    Opening,
    OutlineTrim,
    Scribe,
    Slot,
    feature_path,
    leg_names,
    leg_of,
    trim_path,
)
from translator.model.trims import Trim


class Task(Struct, frozen=True, kw_only=True):
    """One piece of hand work.

    Attributes:
        kind: what the profile calls it; None for what every shop does by hand.
        name: what it is, as a list of work names it: "cope at the start end of leg a".
        sentence: the same as a sentence without its end: "the cope ... is cut".
        element: path of the element.
        why: why the machine does not do it, "" when no such machine does.
    """

    kind: HandWork | None
    name: str
    sentence: str
    element: str
    why: str = ""


def hand_reason(lay: Lay, task: Task) -> Reason:
    """Return the note that names hand work, or the fault when the shop does not do it."""
    why = f"; {task.why}" if task.why else ""
    if task.kind is not None and task.kind not in lay.machine.second_work:
        return Reason(
            rule="second-work-not-offered",
            message=f"{task.sentence} by hand, which is no second work of this machine{why}",
            element=task.element,
            unit="",
        )
    return Reason(
        rule="second-work-needed",
        message=f"{task.sentence} by hand after the machine{why}",
        element=task.element,
        unit="",
        severity=Severity.NOTE,
        hand_work=task.name,
    )


def shape_tasks(lay: Lay) -> Iterator[Task]:
    """Yield the cuts of the outline that no line makes, and the work that the part asks for."""
    for leg in leg_names(lay.part):
        for index, trim in enumerate(leg_of(lay.part, leg).trims):
            yield _trim_task(lay, leg, index, trim)
    for index, text in enumerate(lay.part.second_work):
        words = shown(text)
        yield Task(
            kind=None,
            name=words,
            sentence=f'the part asks for "{words}", which is done',
            element=f"second_work.{index}",
        )


def feature_tasks(leg: LegName, feature: Feature) -> Iterator[Task]:
    """Yield what is done by hand on a feature that the machine makes, or can't make at all."""
    path, name = feature_path(leg, feature.id), named(feature)
    if isinstance(feature, Opening):
        yield Task(kind="opening", name=name, sentence=f"{name} is cut out", element=path)
    elif isinstance(feature, Scribe):
        yield Task(kind=None, name=name, sentence=f"{name} is drawn", element=path)
    elif isinstance(feature, Hole) and feature.thread is not None:
        # The diameter is that of the thread; the core hole is drilled when it is tapped.
        sentence = f"{name} is drilled and tapped"
        yield Task(kind="tapping", name=f"tapping of {name}", sentence=sentence, element=path)
    if isinstance(feature, Hole) and feature.countersink_diameter_mm is not None:
        sentence = f"{name} is countersunk"
        yield Task(
            kind="countersink", name=f"countersink of {name}", sentence=sentence, element=path
        )


def reaming_task(lay: Lay, leg: LegName, feature: Hole | Slot) -> Task:
    """Return the reaming of a hole that was punched small."""
    size = feature.diameter_mm if isinstance(feature, Hole) else feature.width_mm
    name = named(feature)
    return Task(
        kind="reaming",
        name=f"reaming of {name}",
        sentence=f"{name} is reamed to {length_words(lay.part, size)}",
        element=feature_path(leg, feature.id),
    )


def _trim_task(lay: Lay, leg: LegName, index: int, trim: Trim) -> Task:
    where = leg_words(leg)
    if isinstance(trim, OutlineTrim):
        name = f"outline of {where}"
    elif trim.kind == "notch":
        name = f"notch at {length_words(lay.part, trim.x_from_mm)} of {where}"
    else:
        name = f"{trim.kind} at the {trim.end} end of {where}"
    return Task(
        kind=trim.kind,
        name=name,
        sentence=f"the {name} is cut",
        element=trim_path(leg, index),
    )
