"""Where along the piece things lie: running positions, and chains of spaces."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Final, NamedTuple

from translator.readers.part_text._amounts import count, length
from translator.readers.part_text._book import SYNTAX, Book, RefusalError, told
from translator.readers.part_text._frames import Frame
from translator.readers.part_text._scope import Scope
from translator.syntax.tree import Child, Extent, Node, Word, first_word, last_word

MOST_FEATURES: Final = 20_000
"""As many as the part model takes on one leg."""

PLACING: Final = frozenset({"at", "spaces", "from_end", "to_end", "total"})
"""Clauses that say where along the piece something lies."""


class Position(NamedTuple):
    """A place along the piece, and where it is written.

    Attributes:
        mm: exact millimetres from the start.
        extent: where it is written.
        number: which one it is in its list, counted from 0 at the end it is measured from.
    """

    mm: Fraction
    extent: Extent
    number: int = 0


class _Step(NamedTuple):
    """One item of a list: a place, or a distance taken a number of times."""

    times: int
    mm: Fraction
    is_repeat: bool
    extent: Extent


def positions(
    found: Mapping[str, Node], statement: Node, what: str, scope: Scope
) -> list[Position] | None:
    """Return the places that a statement's clauses give, in the order written.

    Args:
        found: clauses by name.
        statement: the statement, for the place of what is missing.
        what: what lies there ("holes").
        scope: the part's units and length; its book takes the findings.

    Returns:
        None when there was a fault, which is noted, or when the length is not known and needed.
    """
    book = scope.book
    errors = book.errors
    listed = found.get("at") or found.get("spaces")
    if listed is None:
        book.say(SYNTAX, f"These {what} have no position: say `at` or `spaces`.", statement.extent)
        return None
    _only_where_they_mean_something(found, book)
    if not has_clear_commas(listed, book):
        return None
    steps = _steps(listed, scope)
    if steps is None or not _has_room(steps, found, statement, scope):
        return None
    walk = _running if listed.name == "at" else _chained
    places = walk(steps, scope)
    if listed.name == "spaces" and book.errors == errors:
        places = _closed(found, places, scope)
    if book.errors > errors:
        return None
    places = [place._replace(number=number) for number, place in enumerate(places)]
    return _from_its_end(found.get("from_end"), places, scope)


def _from_its_end(
    clause: Node | None, places: list[Position], scope: Scope
) -> list[Position] | None:
    """Return places as measured from the start; None where they need an unknown length."""
    length_mm = scope.length_mm
    if clause is None or clause.has("START"):
        return places
    if length_mm is None:
        return None
    mirrored = [place._replace(mm=length_mm - place.mm) for place in places]
    if clause.has("FAR"):
        return mirrored
    middle = next((place for place in places if 2 * place.mm == length_mm), None)
    if middle is not None:
        scope.book.say(
            "position-twice",
            f"{told(middle.mm, scope.units)} is the middle of the piece, and the same from both"
            " ends: give it in a statement of its own.",
            middle.extent,
        )
        return None
    return places + mirrored[::-1]


def _only_where_they_mean_something(found: Mapping[str, Node], book: Book) -> None:
    if "at" in found and "spaces" in found:
        book.say(
            "contradiction",
            "Positions are given by `at` and by `spaces`: one is enough.",
            found["spaces"].extent,
        )
    for name, words in (("to_end", "to end"), ("total", "total")):
        if name in found and "spaces" not in found:
            book.say(
                "meaningless",
                f"`{words}` belongs to a chain of `spaces`, not to positions.",
                found[name].extent,
            )


def has_clear_commas(listed: Node, book: Book) -> bool:
    """Tell whether every comma of a list surely parts two numbers; if not, it is noted.

    Whoever writes decimals with a comma means ``31,75`` as one number.
    """
    children = listed.children
    for before, comma, after in zip(children, children[1:], children[2:], strict=False):
        if not (isinstance(comma, Word) and comma.type == "COMMA" and comma.text):
            continue
        left, right = last_word(before), first_word(after)
        extent = Extent(left.line, left.column, *right.extent[2:])
        is_glued = extent.end_column - extent.column == len(left.text) + 1 + len(right.text)
        if is_glued and left.line == right.line and f"{left.text}{right.text}".isdecimal():
            book.say(
                SYNTAX,
                f"`{left.text},{right.text}` could mean two things: write"
                f" {left.text}, {right.text} for two numbers, or {left.text}.{right.text} for one.",
                extent,
            )
            return False
    return True


def _steps(listed: Node, scope: Scope) -> list[_Step] | None:
    """Return the items of a list; None, with the faults noted, if one can't be read."""
    steps: list[_Step] = []
    is_whole = True
    for item in listed.children:
        if not _is_value(item):
            continue
        try:
            steps.append(_step(item, scope.frame))
        except RefusalError as refusal:
            scope.refuse(refusal)
            is_whole = False
    if not is_whole:
        return None
    return steps


def _has_room(
    steps: Sequence[_Step], found: Mapping[str, Node], statement: Node, scope: Scope
) -> bool:
    """Tell whether so many features may be, before any is made; if not, it is noted."""
    lines = len(found["gauge"].values()) if "gauge" in found else 1
    if "from_end" in found and found["from_end"].has("BOTH"):
        lines *= 2
    total = lines * sum(step.times for step in steps)
    if total <= MOST_FEATURES:
        return scope.has_room(total, statement.extent)
    message = f"{total} features are more than {MOST_FEATURES}, the most a leg may have."
    scope.book.say("too-many-features", message, statement.extent)
    return False


def _step(item: Child, frame: Frame) -> _Step:
    if isinstance(item, Word) or item.name != "repeat":
        return _Step(1, length(item, frame), is_repeat=False, extent=item.extent)
    counted, pitch, *rest = (child for child in item.children if _is_value(child))
    units = frame.units
    times = count(counted, frame, "spaces")
    mm = length(pitch, frame)
    if mm <= 0:
        raise RefusalError(
            "positions-not-increasing",
            f"{told(mm, units)} is no space: it must be more than 0.",
            pitch.extent,
        )
    for checked in rest:
        said = length(checked, frame)
        if said != times * mm:
            raise RefusalError(
                "sum-differs",
                f"{times} @ {told(mm, units)} is {told(times * mm, units)}, not"
                f" {told(said, units)}.",
                item.extent,
            )
    return _Step(times, mm, is_repeat=True, extent=item.extent)


def _is_value(child: Child) -> bool:
    return isinstance(child, Node) or child.type in ("NUMBER", "NAME")


def _running(steps: Sequence[_Step], scope: Scope) -> list[Position]:
    """Return running positions: each number is a place, a repeat goes on from the last one."""
    places: list[Position] = []
    for step in steps:
        if step.is_repeat:
            if not places:
                scope.book.say(
                    "positions-not-increasing",
                    "A repeat goes on from a position: give the first one before it.",
                    step.extent,
                )
                return places
            last = places[-1].mm
            places += [
                Position(last + number * step.mm, step.extent)
                for number in range(1, step.times + 1)
            ]
            continue
        if places and step.mm <= places[-1].mm:
            scope.book.say(
                "positions-not-increasing",
                f"{told(step.mm, scope.units)} does not lie beyond"
                f" {told(places[-1].mm, scope.units)}, the position before it:"
                " did you mean `spaces`?",
                step.extent,
            )
            return places
        places.append(Position(step.mm, step.extent))
    return places


def _chained(steps: Sequence[_Step], scope: Scope) -> list[Position]:
    """Return the places at the end of each space of a chain that begins at the end of the piece."""
    places: list[Position] = []
    reached = Fraction(0)
    for step in steps:
        if step.mm <= 0:
            scope.book.say(
                "positions-not-increasing",
                f"{told(step.mm, scope.units)} is no space: it must be more than 0.",
                step.extent,
            )
            return places
        for _ in range(step.times):
            reached += step.mm
            places.append(Position(reached, step.extent))
    return places


def _closed(found: Mapping[str, Node], places: list[Position], scope: Scope) -> list[Position]:
    """Hold a chain against its total and the piece's length; drop the place at the far end."""
    reached = places[-1].mm if places else Fraction(0)
    if "total" in found:
        _check_total(found["total"], reached, scope)
    if "to_end" not in found:
        return places
    length_mm, units = scope.length_mm, scope.units
    if length_mm is not None and reached != length_mm:
        over = reached - length_mm
        scope.book.say(
            "chain-off-length",
            f"The spaces come to {told(reached, units)}, {told(abs(over), units)}"
            f" {'more' if over > 0 else 'less'} than the length of {told(length_mm, units)}.",
            found["to_end"].extent,
        )
    return places[:-1]


def _check_total(total: Node, reached: Fraction, scope: Scope) -> None:
    said = scope.read(length, total.values()[0])
    if said is not None and said != reached:
        scope.book.say(
            "sum-differs",
            f"The spaces come to {told(reached, scope.units)}, not {told(said, scope.units)}.",
            total.extent,
        )
