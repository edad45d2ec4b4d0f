"""The order of work on a bar: what is done at one stop, and which stop comes after which.

The bar goes forward past all tools, so whatever a tool does comes when its place comes under
it. A cut takes away everything ahead of it: what is left to do there must be done before,
also by a tool that stands beyond the shear, to which the bar goes on and then comes back.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from msgspec import Struct
from msgspec.structs import replace

from translator.bars.program_cuts import second_plane
from translator.bars.program_jobs import Job
from translator.bars.program_model import Cut, Stamping
from translator.machines.ranges import Side
from translator.model import on_grid

SAME_FEED_MM: Final = 2e-6
"""Two steps of the grid: places that only rounding tells apart are worked at one stop.

Not the 0.05 mm within which a part's features count as one stop: a hole stays where it was
drawn.
"""


class Halt(Struct, frozen=True, kw_only=True):
    """One place of the bar, and what is done there before it moves on.

    Attributes:
        feed: where the lead end of the bar stands, millimetres from machine zero.
        jobs: operations and stamps, in order.
        cuts: cuts, after the jobs.
        frees: numbers of the pieces that come off.
    """

    feed: float
    jobs: tuple[Job, ...] = ()
    cuts: tuple[Cut, ...] = ()

    @property
    def frees(self) -> tuple[int, ...]:
        """Numbers of the pieces that come off."""
        return tuple(cut.frees for cut in self.cuts if cut.frees is not None)

    @property
    def last_feed(self) -> float:
        """Where the lead end stands when all is done: a cutter may have moved the bar on."""
        return max((self.feed, *(job.last_feed for job in self.jobs)))

    @property
    def is_moving(self) -> bool:
        """Whether a cutter moves the bar, so that nothing else can be done meanwhile."""
        return self.last_feed != self.feed

    @property
    def place(self) -> float:
        """The greatest bar coordinate at which the middle of a tool or the blade works."""
        at = [job.work.bar_mm + job.last_feed - job.feed for job in self.jobs]
        return max([*at, *(cut.heel_mm for cut in self.cuts)])

    def reach(self, corners: Sequence[Mapping[Side, float]]) -> float:
        """Return the greatest bar coordinate that anything touches, millimetres.

        Args:
            corners: of the section, as ``program_cuts.corners`` gives them.
        """
        high = [job.high for job in self.jobs]
        for cut in self.cuts:
            plane = second_plane(cut)
            high += [plane.through(corner) for corner in corners]
        return max(high)


def halts(jobs: Iterable[Job], cuts: Sequence[Cut], blade_x: float) -> list[Halt]:
    """Return the stops of a bar in the order they are made.

    Args:
        jobs: everything that the machine does on its pieces, in any order.
        cuts: the cuts, in the order they are made.
        blade_x: where the shear or saw stands, millimetres from machine zero.
    """
    waiting = sorted(jobs, key=_order)
    out: list[Halt] = []
    gone = 0
    for cut in cuts:
        feed = on_grid(cut.heel_mm + blade_x)
        gone = max(gone, cut.frees or 0)
        now = [job for job in waiting if job.feed <= feed or job.work.piece <= gone]
        waiting = [job for job in waiting if job.feed > feed and job.work.piece > gone]
        _add_jobs(out, now)
        if not out or out[-1].frees or not _stands(out[-1], feed):
            out.append(Halt(feed=feed))
        out[-1] = replace(out[-1], cuts=(*out[-1].cuts, cut))
    _add_jobs(out, waiting)
    return out


def _add_jobs(out: list[Halt], jobs: Iterable[Job]) -> None:
    for job in jobs:
        moves = job.last_feed != job.feed
        if not out or out[-1].cuts or moves or not _stands(out[-1], job.feed):
            out.append(Halt(feed=job.feed))
        out[-1] = replace(out[-1], jobs=(*out[-1].jobs, job))


def _stands(halt: Halt, feed: float) -> bool:
    """Tell whether something at a feed can be done at a stop too."""
    return not halt.is_moving and abs(halt.feed - feed) <= SAME_FEED_MM


def _order(job: Job) -> tuple[float, int, str, str, float]:
    work = job.work
    tool = "" if isinstance(work, Stamping) else work.tool or ""
    return job.feed, job.rank, tool, work.leg, work.from_heel_mm
