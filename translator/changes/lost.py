"""Parts and files that could not be read: they are named, never counted as removed or added."""

from collections.abc import Iterable, Iterator, Mapping

from translator.changes.sides import Entry, Side, Unread
from translator.model import Placed


def lost(  # noqa: PLR0913 - both sides of three things
    old: Side,
    new: Side,
    *,
    gone: list[Placed],
    come: list[Placed],
    olds: Iterable[Placed],
    news: Iterable[Placed],
) -> Iterator[Entry]:
    """Yield what could not be read on either side.

    Args:
        old: the old side.
        new: the new side.
        gone: parts of the old side without a partner; those that a part or file that could not
            be read on the new side explains are taken out.
        come: likewise of the new side.
        olds: parts of the old side with a partner.
        news: parts of the new side with a partner.
    """
    told: set[Unread] = set()
    for placed, fault in _explained(old, new, gone):
        told.add(fault)
        yield Entry(status="unread", old=placed, unread=(None, fault))
    for placed, fault in _explained(new, old, come):
        told.add(fault)
        yield Entry(status="unread", new=placed, unread=(fault, None))
    before = {u.mark: u for u in old.unread if u.mark and u not in told}
    for fault in new.unread:
        if fault.mark in before and fault not in told:
            told |= {fault, before[fault.mark]}
            yield Entry(status="unread", unread=(before[fault.mark], fault))
    marks = _by_mark(olds), _by_mark(news)
    for fault in old.unread:
        if fault not in told:
            yield Entry(status="unread", unread=(fault, None), remarks=_also(fault, marks[0]))
    for fault in new.unread:
        if fault not in told:
            yield Entry(status="unread", unread=(None, fault), remarks=_also(fault, marks[1]))


def _explained(own: Side, other: Side, alone: list[Placed]) -> Iterator[tuple[Placed, Unread]]:
    """Take out of the parts that are on one side only those that the other could not read."""
    marks = {u.mark: u for u in other.unread if u.mark}
    files = {other.relative(u.path): u for u in other.unread if not u.mark}
    found = []
    for placed in alone:
        fault = marks.get(placed.part.mark) or files.get(own.relative(placed.places[""].path))
        if fault is not None:
            found.append((placed, fault))
    taken = {id(placed) for placed, _ in found}
    alone[:] = [placed for placed in alone if id(placed) not in taken]
    yield from found


def _by_mark(parts: Iterable[Placed]) -> Mapping[str, Placed]:
    return {placed.part.mark: placed for placed in parts}


def _also(fault: Unread, marks: Mapping[str, Placed]) -> tuple[str, ...]:
    other = marks.get(fault.mark) if fault.mark else None
    return () if other is None else (f"the same mark was read from {other.places[''].path}",)
