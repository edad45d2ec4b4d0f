"""Put two whole sides beside each other: which mark is which, and what became of each."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from translator.changes.lost import lost
from translator.changes.model import Told
from translator.changes.naming import in_order
from translator.changes.nc_terms import in_nc_terms
from translator.changes.parts import compare_parts
from translator.changes.same_piece import Families, renames
from translator.changes.sides import STATUSES, Comparison, Entry, Side
from translator.model import Part, Placed
from translator.rules._revisions import is_newer

Pair = tuple[Placed | None, Placed | None]
Key = tuple[str, str]


def compare(old: Side, new: Side, *, is_partial: bool = False) -> Comparison:
    """Compare two sides, mark by mark.

    Args:
        old: the old side.
        new: the new side.
        is_partial: whether the new side holds only what was issued again, so that marks which
            it lacks are as they were.
    """
    work = _Work(old, new)
    pairs = list(_paired(work))
    told: dict[int, Told] = {}
    for number, (one, two) in enumerate(pairs):
        if one is not None and two is not None:
            told[number] = work.told(one, two)
    both = [(one, two, told[n]) for n, (one, two) in enumerate(pairs) if one and two]
    gone = [one for one, two in pairs if one and not two]
    come = [two for one, two in pairs if two and not one]
    entries = [Entry(status="changed", old=a, new=b, told=t) for a, b, t in both if _is_changed(t)]
    olds, news = [a for a, _, _ in both], [b for _, b, _ in both]
    entries += list(lost(old, new, gone=gone, come=come, olds=olds, news=news))
    entries += list(_one_sided(work, gone, come, [(a, b) for a, b, _ in both]))
    not_issued = [e.old for e in entries if e.status == "removed" and e.old and is_partial]
    if is_partial:
        entries = [e for e in entries if e.status != "removed"]
    quiet = [(b.part.mark, t) for _, b, t in both if not _is_changed(t)]
    return Comparison(
        old=old,
        new=new,
        entries=tuple(sorted(entries, key=_order)),
        unchanged=tuple(sorted((m for m, t in quiet if not t.changes), key=in_order)),
        rounded=tuple(sorted((m for m, t in quiet if t.changes), key=in_order)),
        largest_rounding_mm=max((t.largest_rounding_mm for *_, t in both), default=0.0),
        not_issued=tuple(not_issued),
        in_nc_terms=tuple(sorted(set(work.in_nc_terms), key=in_order)),
        remarks=(*old.remarks, *new.remarks, *work.remarks),
    )


def _is_changed(told: Told) -> bool:
    return told.weight not in (None, "rounding")


def _order(entry: Entry) -> tuple[object, ...]:
    return (in_order(entry.mark), entry.path, STATUSES.index(entry.status))


class _Work:
    """Two sides while they are compared."""

    def __init__(self, old: Side, new: Side) -> None:
        self.old, self.new = old, new
        self.in_nc_terms: list[str] = []
        self.remarks: list[str] = []

    def told(self, one: Placed, two: Placed) -> Told:
        """Tell two parts apart, in the terms of the detailer format where only one is of it."""
        old, new = self.terms(one, two)
        return compare_parts(old, new)

    def terms(self, one: Placed, two: Placed) -> tuple[Part, Part]:
        """Return both parts; where only one is of the detailer format, both as it can say them."""
        are_nc = (
            one.places[""].path in self.old.nc_files,
            two.places[""].path in self.new.nc_files,
        )
        if are_nc[0] == are_nc[1]:
            return one.part, two.part
        self.in_nc_terms.append(two.part.mark)
        return in_nc_terms(one.part), in_nc_terms(two.part)


def _paired(work: _Work) -> Iterator[Pair]:
    """Pair the parts of both sides by order and mark, then by mark alone."""
    ours, theirs = _by_key(work, work.old, "OLD"), _by_key(work, work.new, "NEW")
    alone_ours = {k: v for k, v in ours.items() if k not in theirs}
    alone_theirs = {k: v for k, v in theirs.items() if k not in ours}
    for key, group in ours.items():
        if key in theirs:
            yield from _within(work, group, theirs[key])
    by_mark: dict[str, list[Key]] = defaultdict(list)
    for key in alone_theirs:
        by_mark[key[1]].append(key)
    marks = Counter(mark for _, mark in alone_ours)
    for key, group in alone_ours.items():
        others = by_mark.get(key[1], [])
        if marks[key[1]] == 1 and len(others) == 1:
            yield from _within(work, group, alone_theirs.pop(others[0]))
        else:
            yield from ((one, None) for one in group)
    for group in alone_theirs.values():
        yield from ((None, two) for two in group)


def _by_key(work: _Work, side: Side, name: str) -> dict[Key, list[Placed]]:
    found: dict[Key, list[Placed]] = defaultdict(list)
    for placed in side.parts:
        found[placed.part.order or "", placed.part.mark].append(placed)
    for (_, mark), group in found.items():
        if len(group) == 1:
            continue
        newest = [p for p in group if not any(_replaces(q, p) for q in group)]
        paths = ", ".join(f"{p.places[''].path}:{p.places[''].line}" for p in group)
        if len(newest) < len(group):
            revision = newest[0].part.revision
            work.remarks.append(
                f"{mark} stands {len(group)} times in {name} ({paths}); revision {revision} counts"
            )
        else:
            work.remarks.append(f"{mark} stands {len(group)} times in {name} ({paths})")
        group[:] = newest
    return found


def _replaces(one: Placed, other: Placed) -> bool:
    return is_newer(one.part.revision, other.part.revision)


def _within(work: _Work, ours: Sequence[Placed], theirs: Sequence[Placed]) -> Iterator[Pair]:
    """Pair the parts of one mark; of more than one those that are alike, then by their order."""
    if len(ours) == len(theirs) == 1:
        yield ours[0], theirs[0]
        return
    left, right = list(ours), list(theirs)
    are_few = len(ours) * len(theirs) <= _MOST_TWINS
    is_first_choice: tuple[Callable[[Placed, Placed], bool], ...] = (
        lambda a, b: are_few and not _is_changed(work.told(a, b)),
        lambda a, b: work.old.relative(a.places[""].path) == work.new.relative(b.places[""].path),
        lambda _a, _b: True,
    )
    for fits in is_first_choice:
        for one in tuple(left):
            two = next((b for b in right if fits(one, b)), None)
            if two is not None:
                left.remove(one)
                right.remove(two)
                yield one, two
    yield from ((one, None) for one in left)
    yield from ((None, two) for two in right)


_MOST_TWINS: Final = 400
"""Pairs of parts of one mark that are looked through for alike ones; more are paired in order."""


def _one_sided(
    work: _Work, gone: list[Placed], come: list[Placed], both: Sequence[tuple[Placed, Placed]]
) -> Iterator[Entry]:
    """Yield marks that are on one side only: renamed, merged, split, removed or added."""
    found = list(renames(gone, come, work.told))
    yield from (Entry(status="renamed", old=one, new=two, told=what) for one, two, what in found)
    taken = {id(placed) for one, two, _ in found for placed in (one, two)}
    gone = [placed for placed in gone if id(placed) not in taken]
    come = [placed for placed in come if id(placed) not in taken]
    if not gone and not come:
        return
    families = Families(both)
    doubt = _doubt(work.new), _doubt(work.old)
    for one in gone:
        kept = families.of_new(one)
        yield _removed(one, kept, doubt[0])
    for two in come:
        kept = families.of_old(two)
        yield _added(two, kept, doubt[1])


def _doubt(side: Side) -> tuple[str, ...]:
    """Return the remark on a part that a side lacks, when files of it could not be read whole."""
    files = [u.path for u in side.unread if not u.mark] + list(side.doubtful)
    if not files:
        return ()
    more = f" and {len(files) - 1} more" if len(files) > 1 else ""
    return (f"unless it stands in {files[0]}{more}, which could not be read whole",)


def _removed(one: Placed, kept: tuple[Placed, Placed] | None, doubt: tuple[str, ...]) -> Entry:
    if kept is None:
        return Entry(status="removed", old=one, remarks=doubt)
    mark, were, are = kept[1].part.mark, kept[0].part.quantity, kept[1].part.quantity
    if are > were:
        sums = _sums(one.part.quantity + were, are)
        words = f"its pieces go by {mark} now, the same piece: {were} there became {are}{sums}"
        return Entry(status="merged", old=one, remarks=(words, *doubt))
    return Entry(status="removed", old=one, remarks=(f"{mark} is the same piece", *doubt))


def _added(two: Placed, kept: tuple[Placed, Placed] | None, doubt: tuple[str, ...]) -> Entry:
    if kept is None:
        return Entry(status="added", new=two, remarks=doubt)
    mark, were, are = kept[1].part.mark, kept[0].part.quantity, kept[1].part.quantity
    if are < were:
        sums = _sums(were, two.part.quantity + are)
        words = f"split off from {mark}, the same piece: {were} there became {are}{sums}"
        return Entry(status="split", new=two, remarks=(words, *doubt))
    return Entry(status="added", new=two, remarks=(f"{mark} is the same piece", *doubt))


def _sums(before: int, after: int) -> str:
    return "" if before == after else f" (together {before} became {after})"
