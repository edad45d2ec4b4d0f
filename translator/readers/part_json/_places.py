"""Places of a part's elements, worked out the first time one is asked for."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Final

from translator.documents.locate import Json, Lines, Path, locate, ordinals
from translator.documents.strict import Tree
from translator.model import LegName, Part, feature_path, leg_names, leg_of, trim_path
from translator.source import Span

_MARK: Final = ("part", "mark")
_OF_MARK: Final = ("", "mark")
"""Elements that stand where the mark does."""


_FEW: Final = 6
"""So many places are looked for one by one; when more are asked for, all are, in one pass."""


class Places(Mapping[str, Span]):
    """Element path -> place, for a part out of a document.

    The whole part stands where its mark does, which is asked of every part; other places only
    of one that something is wrong with, so they are looked for when one is. A list or an
    object is its whole extent.
    """

    def __init__(self, tree: Tree, part: Part) -> None:
        """Keep the document of a part that was read from it."""
        self._tree = tree
        self._part = part
        self._found: dict[str, Span] = {}

    def __getitem__(self, element: str) -> Span:
        if element in _OF_MARK:
            return self._mark
        if element not in self._found:
            path = self._paths[element]
            few = len(self._found) < _FEW
            self._found |= self._spans({element: path} if few else self._paths)
        return self._found[element]

    def __contains__(self, element: object) -> bool:
        return element in _OF_MARK or element in self._paths

    def __iter__(self) -> Iterator[str]:
        return iter(self._paths)

    def __len__(self) -> int:
        return len(self._paths)

    @cached_property
    def _mark(self) -> Span:
        (number,) = ordinals(self._tree.value, (_MARK,)).values()
        extent = locate(self._tree.text, (number,))[number]
        return Lines(self._tree.path, self._tree.text[: extent.end]).span(extent.start, extent.end)

    @cached_property
    def _paths(self) -> dict[str, Path]:
        return dict(_paths(self._tree.value["part"], self._part))

    @cached_property
    def _lines(self) -> Lines:
        return Lines(self._tree.path, self._tree.text)

    def _spans(self, paths: Mapping[str, Path]) -> dict[str, Span]:
        numbers = ordinals(self._tree.value, paths.values())
        extents = locate(self._tree.text, numbers.values())
        spans = {}
        for element, path in paths.items():
            extent = extents[numbers[path]]
            spans[element] = self._lines.span(extent.start, extent.end)
        return spans


def _paths(raw: dict[str, Json], part: Part) -> Iterator[tuple[str, Path]]:
    """Pair the elements of the part with their paths in the document."""
    yield "", _MARK
    for name in raw:
        yield "length" if name == "length_mm" else name, ("part", name)
    for name in ("start", "far"):
        if name in (raw.get("ends") or ()):
            yield f"ends.{name}", ("part", "ends", name)
    for index in range(len(part.waivers)):
        yield f"waivers.{index}", ("part", "waivers", index)
    for leg in leg_names(part):
        if leg in raw["legs"]:
            yield f"legs.{leg}", ("part", "legs", leg)
            yield from _leg_paths(leg, part)


def _leg_paths(leg: LegName, part: Part) -> Iterator[tuple[str, Path]]:
    for index, feature in enumerate(leg_of(part, leg).features):
        yield feature_path(leg, feature.id), ("part", "legs", leg, "features", index)
    for index in range(len(leg_of(part, leg).trims)):
        yield trim_path(leg, index), ("part", "legs", leg, "trims", index)
