"""Where the spelling of a file has faults."""

from bisect import bisect_left

from translator.syntax.tree import Extent, PartText


class FaultyLines:
    """Answers whether a fault of the spelling lies within a stretch of the file."""

    def __init__(self, tree: PartText) -> None:
        """Note the places of a file's faults."""
        self._places = [fault.extent for fault in tree.faults]
        self._begins = [place[:2] for place in self._places]

    def first(self, extent: Extent) -> Extent | None:
        """Return the first fault that begins within an extent."""
        first = bisect_left(self._begins, extent[:2])
        is_within = first < len(self._begins) and self._begins[first] <= extent[2:]
        return self._places[first] if is_within else None

    def has_any(self, extent: Extent) -> bool:
        """Tell whether a fault begins within an extent."""
        return self.first(extent) is not None
