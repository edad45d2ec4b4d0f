"""The page of changes: each part with its list of changes and both states laid over each other.

One file that loads nothing. Everything is in the markup; the script (``changes.js``) only filters.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from translator.changes.applying import laid, prepared
from translator.changes.both_states import sheet
from translator.changes.model import WEIGHTS, Change
from translator.changes.overlay import overlay
from translator.changes.sides import STATUSES, Comparison, Entry, Status
from translator.changes.text import (
    counts_words,
    label,
    mass_words,
    piece_words,
    remarks,
    side_words,
    unread_words,
)
from translator.findings import CAUTION
from translator.model import Flat, LegName, Part, leg_names
from translator.pages._html import escaped, page
from translator.pages._layout import lay_out
from translator.pages._legs import leg_picture
from translator.pages._picture import Picture
from translator.pages._svg import svg
from translator.pages._words import leg_words

_NAMES: Final[dict[Status, str]] = {
    "unread": "not compared",
    "changed": "changed",
    "renamed": "called otherwise",
    "merged": "merged",
    "split": "split off",
    "added": "added",
    "removed": "removed",
}
_LEGEND: Final = (
    ("ov-old", "M2 9H38", "as it was (dashed)"),
    ("ov-new", "M2 9H38", "as it is now"),
    ("ov-arrow", "M2 9H37M31 5L37 9L31 13", "moved"),
    ("ov-was", "M12 9a8 8 0 1 0 16 0a8 8 0 1 0 -16 0Z", "gone (crossed out)"),
    ("ov-is", "M14 9a6 6 0 1 0 12 0a6 6 0 1 0 -12 0Z", "added (second ring)"),
    ("ov-same", "M14 9a6 6 0 1 0 12 0a6 6 0 1 0 -12 0Z", "as before"),
)
_EXTRA: Final = {
    "gone (crossed out)": ("ov-cross", "M13 2L27 16M13 16L27 2"),
    "added (second ring)": ("ov-ring", "M11 9a9 8.5 0 1 0 18 0a9 8.5 0 1 0 -18 0Z"),
}


def render(comparison: Comparison) -> str:
    """Return the page; the same bytes for the same comparison."""
    return page(
        title=f"Backmark changes: {comparison.old.name} to {comparison.new.name}",
        body=_body(comparison),
        styles=("picture.css", "review.css", "changes.css"),
        scripts=("changes.js",),
    )


def _body(comparison: Comparison) -> Iterator[str]:
    old, new = comparison.old, comparison.new
    yield '<a class="skip" href="#parts">Skip to the parts</a>\n'
    yield f'<header class="top"><h1>Changes from {escaped(old.name)} to {escaped(new.name)}</h1>\n'
    yield f'<p class="caution"><strong>Caution.</strong> {escaped(CAUTION)}</p></header>\n'
    yield '<div class="columns"><nav id="side" aria-label="Filter and parts">'
    yield from _list(comparison)
    yield '</nav>\n<main id="main">\n'
    yield from _summary(comparison)
    yield '<section id="parts" aria-labelledby="parts-head" tabindex="-1">'
    yield '<h2 id="parts-head">What changed</h2>\n'
    if comparison.entries:
        yield from _legend()
    else:
        yield "<p>Nothing.</p>\n"
    for number, entry in enumerate(comparison.entries):
        yield from _article(number, entry, comparison.entries)
    yield "</section>\n</main></div>\n"


def _list(comparison: Comparison) -> Iterator[str]:
    yield '<ul class="list" id="list" role="list" aria-label="Parts">'
    for number, entry in enumerate(comparison.entries):
        mark = escaped(label(entry, comparison.entries))
        yield (
            f'<li><a href="#part-{number}"><span class="mark">{mark}</span>'
            f' <span class="tally">{_short(entry)}</span></a></li>'
        )
    yield "</ul>"


def _short(entry: Entry) -> str:
    if entry.told.hand:
        return "hand"
    return str(entry.weight) if entry.status == "changed" else _NAMES[entry.status]


def _summary(comparison: Comparison) -> Iterator[str]:
    counts = comparison.counts()
    yield '<section aria-labelledby="sum-head"><h2 id="sum-head">Summary</h2>\n'
    yield '<ul class="counts">'
    for status in STATUSES:
        if counts[status] or status in ("changed", "added", "removed"):
            yield f"<li><b>{counts[status]}</b> <span>{_NAMES[status]}</span></li>"
    same = len(comparison.unchanged) + len(comparison.rounded)
    yield f"<li><b>{same}</b> <span>unchanged</span></li></ul>\n"
    yield f"<p>{escaped(counts_words(comparison))} {escaped(mass_words(comparison))}</p>\n<ul>"
    for name, side in (("Old", comparison.old), ("New", comparison.new)):
        yield f"<li>{name}: <bdi>{escaped(side.name)}</bdi>, {escaped(side_words(side))}</li>"
    yield from (f"<li>{escaped(words)}</li>" for words in remarks(comparison))
    yield "</ul></section>\n"


def _legend() -> Iterator[str]:
    yield '<ul class="legend" aria-label="Lines of the pictures">'
    for kind, path, words in _LEGEND:
        extra = "".join(
            f'<path class="{k}" d="{d}"/>' for k, d in [_EXTRA.get(words, ("", ""))] if k
        )
        yield (
            f'<li><svg class="picture" viewBox="0 0 40 18" width="40" height="18"'
            f' aria-hidden="true"><path class="{kind}" d="{path}"/>{extra}</svg> {words}</li>'
        )
    yield "</ul>\n<p>Both states are drawn from outside, start end left; a number points at each"
    yield " change of the list.</p>\n"


def _article(number: int, entry: Entry, entries: Sequence[Entry]) -> Iterator[str]:
    name = label(entry, entries)
    placed = entry.new or entry.old
    title = f'<span class="title">{escaped(placed.part.title or "")}</span>' if placed else ""
    yield (
        f'<article class="part" id="part-{number}" tabindex="-1" data-weight="{entry.weight}"'
        f' data-status="{"hand" if entry.told.hand else entry.status}">'
        f"<header><h3><bdi>{escaped(name)}</bdi>{title}</h3>"
        f'<span class="state">{_state(entry)}</span></header>\n'
    )
    if entry.told.hand:
        yield f'<p class="hand"><strong>Check the hand.</strong> <bdi>{escaped(name)}</bdi>'
        yield f" {escaped(entry.told.hand)}.</p>\n"
    yield from (f"<p>{escaped(_sentence(words))}</p>\n" for words in unread_words(entry))
    if entry.status != "unread":
        yield from _pieces(entry)
    changes = _numbered(entry)
    yield from _changes(number, changes)
    yield from (f"<p>{escaped(_sentence(words))}.</p>\n" for words in entry.remarks)
    yield from _pictures(entry, changes)
    yield "</article>\n"


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def _state(entry: Entry) -> str:
    words = _NAMES[entry.status]
    touches = {"metal": "metal moves", "work": "other work, same shape", "paper": "paper only"}
    if entry.status in ("changed", "renamed"):
        return f"{words}: {touches.get(entry.weight, '')}"
    return words


def _pieces(entry: Entry) -> Iterator[str]:
    yield '<p class="line">'
    both = (("old", entry.old), ("new", entry.new))
    words = [
        f"{name}: <bdi>{escaped(piece_words(placed))}</bdi>"
        for name, placed in both
        if placed is not None
    ]
    yield f"{'<br>'.join(words)}</p>\n"


def _numbered(entry: Entry) -> dict[int, Change]:
    """Return the changes that are told, in the order of the text, by their numbers."""
    told = [c for c in entry.told.changes if c.weight != "rounding"]
    ordered = sorted(told, key=lambda c: (c.kind != "turned", WEIGHTS.index(c.weight)))
    return dict(enumerate(ordered, start=1))


def _changes(number: int, changes: dict[int, Change]) -> Iterator[str]:
    if not changes:
        return
    yield '<ol class="changes" role="list">'
    for n, change in changes.items():
        yield (
            f'<li id="part-{number}-{n}"><span class="count">{n}</span>'
            f' <span class="chip {change.weight}">{change.weight}</span>'
            f" <bdi>{escaped(change.text)}</bdi></li>"
        )
    yield "</ol>\n"


def _pictures(entry: Entry, changes: dict[int, Change]) -> Iterator[str]:
    if entry.status == "added" and entry.new is not None:
        part = entry.new.part
        layout = lay_out(part)
        for leg in leg_names(part):
            yield _figure(leg, leg_picture(part, leg, layout), "new")
        return
    if entry.old is None or entry.new is None or not _is_drawn(changes):
        return
    old, new = entry.old.part, entry.new.part
    if isinstance(old.section, Flat) != isinstance(new.section, Flat):
        yield from _apart(old, new)
        return
    both = sheet(laid(prepared(old), entry.told.lie), prepared(new), changes)
    for leg in leg_names(new):
        yield _figure(leg, overlay(both, leg), "old and new")


def _is_drawn(changes: dict[int, Change]) -> bool:
    return any(change.weight == "metal" for change in changes.values()) or any(
        item.path.endswith(".features") for change in changes.values() for item in change.items
    )


def _apart(old: Part, new: Part) -> Iterator[str]:
    for name, part in (("old", old), ("new", new)):
        layout = lay_out(part)
        for leg in leg_names(part):
            yield _figure(leg, leg_picture(part, leg, layout), name)


def _figure(leg: LegName, picture: Picture, what: str) -> str:
    caption = f"{leg_words(leg).capitalize()}, outside face, {what}"
    return f"<figure><figcaption>{escaped(caption)}</figcaption>{svg(picture)}</figure>\n"
