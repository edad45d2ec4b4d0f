"""What the machine does on one piece: an operation for each hit, and the work that is left."""

import math
from collections.abc import Iterable, Iterator

from msgspec import Struct

from translator.bars.program_hits import half_extent, hits_of
from translator.bars.program_lying import Lying
from translator.bars.program_model import (
    Operation,
    ProgramPiece,
    Refused,
    SecondWork,
    Stamping,
)
from translator.bars.program_stamps import stamp_works
from translator.machines.capable import Capability, capable, capable_as
from translator.machines.handling import Placement
from translator.machines.making import Way
from translator.machines.profile import Machine
from translator.machines.stations import Station
from translator.model import (
    CentreMark,
    Hole,
    Slot,
    feature_path,
    leg_names,
    leg_of,
    on_grid,
)


class Job(Struct, frozen=True, kw_only=True):
    """One operation or stamp, and where along the machine its tool stands.

    Attributes:
        work: what is done.
        tool_x: place of its tool along the machine, millimetres from machine zero.
        rank: the station's place in the profile; the marker comes last.
        low: least bar coordinate that it touches.
        high: greatest bar coordinate that it touches.
    """

    work: Operation | Stamping
    tool_x: float
    rank: int
    low: float
    high: float

    @property
    def feed(self) -> float:
        """Where the lead end of the bar must stand for it, millimetres from machine zero."""
        return on_grid(self.work.bar_mm + self.tool_x)

    @property
    def last_feed(self) -> float:
        """Where it stands when the job is done: a milling cutter moves along the bar."""
        to = self.work.to_bar_mm if isinstance(self.work, Operation) else None
        return self.feed if to is None else on_grid(to + self.tool_x)


class PieceJobs(Struct, frozen=True, kw_only=True):
    """All jobs of one piece, what is left to do on it, and why it can't be made, if it can't."""

    piece: ProgramPiece
    jobs: tuple[Job, ...] = ()
    refused: tuple[Refused, ...] = ()


def all_jobs(pieces: Iterable[Lying]) -> list[PieceJobs]:
    """Return what the machine does on each piece of a bar.

    Pieces that are alike and lie alike are asked about once.
    """
    answers: dict[tuple[int, Placement], Capability] = {}
    out = []
    for piece in pieces:
        key = id(piece.part), piece.planned.placement
        if key not in answers:
            answers[key] = capable_as(piece.machine, piece.part, piece.planned.placement)
        out.append(_piece_jobs(piece, answers[key]))
    return out


def _piece_jobs(lying: Lying, answer: Capability) -> PieceJobs:
    """Return what the machine does on a piece as it lies.

    Every feature is either worked or named as second work; where one is neither, the piece is
    refused, since a feature that is dropped would be found on the site.
    """
    stamps = tuple(stamp_works(lying))
    left = (*_second_work(lying, answer), *(w for w in stamps if isinstance(w, SecondWork)))
    piece = _piece(lying, left)
    if answer.verdict == "not":
        first = answer.reasons[0]
        refused = lying.refused(first.rule, first.message, _remedy(lying), first.element)
        return PieceJobs(piece=piece, refused=(refused,))
    jobs = [job for way in answer.ways for job in _way_jobs(lying, way)]
    jobs += [_stamp_job(lying, work) for work in stamps if isinstance(work, Stamping)]
    return PieceJobs(piece=piece, jobs=tuple(jobs), refused=tuple(_dropped(lying, jobs, left)))


def _remedy(lying: Lying) -> str:
    best = capable(lying.machine, lying.part)
    if best.verdict != "not":
        return f"plan it with its {best.feed.lead_end} end leading"
    return "plan it for another machine, or change the part; its own check says more"


def _piece(lying: Lying, left: tuple[SecondWork, ...]) -> ProgramPiece:
    planned = lying.planned
    return ProgramPiece(
        number=planned.number,
        order=planned.order,
        mark=planned.mark,
        revision=planned.revision,
        index=planned.index,
        count=planned.count,
        length_mm=planned.length_mm,
        lead_mm=planned.lead_mm,
        trail_mm=planned.trail_mm,
        placement=planned.placement,
        source=lying.source(""),
        second_work=left,
    )


def _second_work(lying: Lying, answer: Capability) -> Iterator[SecondWork]:
    """Yield what is left to do after the machine; stamps are told by the stamps themselves."""
    features = {
        feature_path(leg, feature.id): (leg, feature)
        for leg in leg_names(lying.part)
        for feature in leg_of(lying.part, leg).features
    }
    for reason in answer.reasons:
        if not reason.hand_work:
            continue
        leg, feature = features.get(reason.element, (None, None))
        if feature is not None and feature.kind == "stamp":
            continue
        yield SecondWork(
            what=reason.hand_work,
            why=reason.message,
            element=reason.element,
            leg=leg,
            feature=feature.id if feature is not None else None,
            source=lying.source(reason.element),
        )


def _dropped(lying: Lying, jobs: list[Job], left: tuple[SecondWork, ...]) -> Iterator[Refused]:
    known = {job.work.feature for job in jobs} | {work.feature for work in left}
    for leg in leg_names(lying.part):
        for feature in leg_of(lying.part, leg).features:
            if feature.id not in known:
                yield lying.refused(
                    "feature-without-work",
                    f"{feature.id} is neither made on the machine nor named as second work",
                    "report it: this is a fault of the program, not of the part",
                    feature_path(leg, feature.id),
                )


def _way_jobs(lying: Lying, way: Way) -> Iterator[Job]:
    rank, station = _station(lying.machine, way.station)
    features = leg_of(lying.part, way.leg).features
    feature = next(f for f in features if f.id == way.feature)
    if not isinstance(feature, Hole | Slot | CentreMark):
        raise TypeError(f"a {feature.kind} has no tool")
    tool = next((t for t in station.tools if t.number == way.tool), None)
    whole = {
        "process": way.process,
        "station": station.name,
        "tool": way.tool or None,
        "side": lying.leg(way.leg).side,
        "enters": station.enters,
        "piece": lying.planned.number,
        "mark": lying.part.mark,
        "leg": way.leg,
        "feature": way.feature,
        "source": lying.source(feature_path(way.leg, way.feature)),
    }
    for fields in hits_of(lying, way, feature, tool):
        work = Operation(**(whole | fields))
        half = half_extent(work)
        ends = (work.bar_mm, work.bar_mm if work.to_bar_mm is None else work.to_bar_mm)
        yield Job(
            work=work,
            tool_x=station.x_mm,
            rank=rank,
            low=min(ends) - half,
            high=max(ends) + half,
        )


def _station(machine: Machine, name: str) -> tuple[int, Station]:
    return next((i, s) for i, s in enumerate(machine.stations) if s.name == name)


def _stamp_job(lying: Lying, work: Stamping) -> Job:
    marker = lying.machine.marker
    if marker is None:
        raise TypeError("a stamp without a marker")
    along = len(work.text) * marker.letter_width * work.height_mm
    turn = math.radians(work.reading_deg)
    # Seen along the travel, letters run along `reading` and rise square to it; s runs against.
    reach = abs(along * math.cos(turn)) + abs(work.height_mm * math.sin(turn))
    return Job(
        work=work,
        tool_x=marker.x_mm,
        rank=len(lying.machine.stations),
        low=work.bar_mm - reach,
        high=work.bar_mm + reach,
    )
