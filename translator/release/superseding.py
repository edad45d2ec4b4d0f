"""What becomes of each mark of an earlier release."""

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from translator.lengths.spell import length_text
from translator.release.manifest import Change, Mark, MarkName, Release, Superseded

_Key = tuple[str, str]


def supersede(earlier: Release, manifest_sha256: str, later: Release) -> Superseded:
    """Return what a later release takes over, changes, adds and drops.

    A mark is taken over when its design data are the same and its files hold the same bytes.

    Args:
        earlier: the release that is superseded.
        manifest_sha256: of its manifest.
        later: the release that takes its place.
    """
    before, now = _by_key(earlier), _by_key(later)
    old_files, new_files = _digests(earlier), _digests(later)
    kept: list[MarkName] = []
    changed: list[Change] = []
    for key, mark in now.items():
        if key not in before:
            continue
        what = tuple(_changes(before[key], mark, old_files, new_files))
        if what:
            changed.append(Change(mark=mark.mark, order=mark.order, what=what))
        else:
            kept.append(_name(mark))
    return Superseded(
        name=earlier.name,
        number=earlier.number,
        by=earlier.by,
        at=earlier.at,
        manifest_sha256=manifest_sha256,
        taken_over=tuple(kept),
        changed=tuple(changed),
        new=tuple(_name(mark) for key, mark in now.items() if key not in before),
        dropped=tuple(_name(mark) for key, mark in before.items() if key not in now),
    )


def _changes(
    old: Mark, new: Mark, old_files: Mapping[str, str], new_files: Mapping[str, str]
) -> Iterator[str]:
    """Yield in words what of a mark is not what it was."""
    pairs = ((old, old_files), (new, new_files))
    if old.status != new.status:
        yield f"on hold now: {new.reason}" if new.reason else "no longer on hold"
    elif old.reason != new.reason:
        yield f"on hold for another reason: {new.reason}"
    told = [f"{t} {tell(old)} to {tell(new)}" for t, of, tell in _TOLD if of(old) != of(new)]
    yield from told
    if old.piece != new.piece:
        # The manifest knows that the metal is not the same, not where.
        still = f", and the revision is still {new.revision or 'not said'}"
        yield f"another piece{still if old.revision == new.revision else ''}"
    elif old.status == new.status and not told:
        was, is_ = ({p: files[p] for p in mark.files} for mark, files in pairs)
        if was.keys() != is_.keys():
            yield "the same piece in other formats"
        elif was != is_:
            yield "the same piece, told otherwise: titles, remarks, bolts or drawing data"


def _length(mark: Mark) -> str:
    text = length_text(mark.length_mm, mark.units)
    if mark.units == "inch" and not text.endswith("mm"):
        return f"{text} in."
    return f"{text.removesuffix('mm')} mm"


_TOLD: Final[tuple[tuple[str, Callable[[Mark], object], Callable[[Mark], object]], ...]] = (
    ("revision", lambda mark: mark.revision, lambda mark: mark.revision or "not said"),
    ("quantity", lambda mark: mark.quantity, lambda mark: mark.quantity),
    ("section", lambda mark: mark.section, lambda mark: mark.section),
    ("length", lambda mark: mark.length_mm, _length),
    ("grade", lambda mark: mark.grade, lambda mark: mark.grade or "not said"),
)
"""What is compared, and how it is told; a length spelt in another unit is no change."""


def _by_key(release: Release) -> Mapping[_Key, Mark]:
    return {(mark.order or "", mark.mark): mark for mark in release.marks}


def _digests(release: Release) -> Mapping[str, str]:
    return {file.path: file.sha256 for file in release.outputs}


def _name(mark: Mark) -> MarkName:
    return MarkName(mark=mark.mark, order=mark.order)
