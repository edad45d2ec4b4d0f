"""Where the carriage takes the bar: as few grips as its travel and its jaw allow.

Each stop asks for the jaw in a range of the bar; one grip serves the stops for as long as their
ranges have something in common.
"""

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from translator.bars.program_carriage import GRID_MM, Carriage, holes
from translator.bars.program_model import GripBar, Move, Refused
from translator.bars.program_stops import Halt
from translator.machines.reasons import decimal
from translator.model import on_grid

GripStep = GripBar | Move


class CannotHoldError(Exception):
    """The bar can't be held for a stop; carries why, for a finding."""

    def __init__(self, refused: Refused) -> None:
        super().__init__(refused.message)
        self.refused = refused


class _Taking(Struct, frozen=True, kw_only=True):
    """The moment before a stop, with the bar standing at some feed and held at ``held``."""

    carriage: Carriage
    stops: Sequence[Halt]
    number: int
    feed: float
    held: float | None

    @property
    def target(self) -> Halt:
        return self.stops[self.number]

    @property
    def done(self) -> Sequence[Halt]:
        return self.stops[: self.number]


def grips(carriage: Carriage, stops: Sequence[Halt]) -> list[list[GripStep]]:
    """Return, for each stop, what the carriage does before it: nothing, moves and grips.

    Raises:
        CannotHoldError: where no grip serves a stop.
    """
    out: list[list[GripStep]] = []
    held: float | None = None
    since, feed = 0, stops[0].feed if stops else 0.0
    for number, stop in enumerate(stops):
        low, high = carriage.serving(stop)
        if low > high + GRID_MM:
            raise CannotHoldError(_unreachable(carriage, stop))
        out.append([])
        while held is None or not _serves(carriage, stop, held):
            now = _Taking(carriage=carriage, stops=stops, number=number, feed=feed, held=held)
            taken = _next_grip(now)
            if taken:
                since = number
                out[number] += taken
                feed = taken[-1].feed_mm
            else:
                since, taken = _earlier_grip(now, since)
                out[since] += taken
            held = taken[-1].from_mm
        feed = stop.last_feed
    return out


def _earlier_grip(now: _Taking, since: int) -> tuple[int, tuple[GripBar]]:
    """Return the last stop at which the bar can be taken so that it serves up to the target.

    The clamp may not hold the bar any more by the time that the carriage runs out of travel.
    """
    for number in range(now.number - 1, since, -1):
        at = now.stops[number - 1].last_feed
        then = replace(now, number=number, feed=at)
        g = _choice(then, at)
        if g is not None and all(
            _serves(now.carriage, s, g) for s in now.stops[number : now.number + 1]
        ):
            return number, (_grip(then, at, g),)
    raise CannotHoldError(_beyond_travel(now.carriage, now.target))


def _serves(carriage: Carriage, stop: Halt, g: float) -> bool:
    low, high = carriage.serving(stop)
    return low - GRID_MM <= g <= high + GRID_MM


def _grip(now: _Taking, at: float, g: float) -> GripBar:
    return GripBar(
        is_regrip=now.held is not None,
        feed_mm=at,
        from_mm=g,
        to_mm=on_grid(g + now.carriage.jaw),
        carriage_mm=now.carriage.stands(at, g),
    )


def _next_grip(now: _Taking) -> tuple[GripBar] | tuple[Move, GripBar] | tuple[()]:
    """Return the next grip on the way to a stop: where the bar stands, or farther on."""
    carriage, held = now.carriage, now.held
    if held is not None and not carriage.grip.can_regrip:
        raise CannotHoldError(_beyond_travel(carriage, now.target))
    places = [now.feed]
    if held is not None and carriage.fore is not None:
        places.append(on_grid(min(now.target.feed, carriage.fore + held)))
    for at in places:
        g = _choice(now, at)
        if g is None:
            continue
        if held is None or at == now.feed:
            return (_grip(now, at, g),)
        return Move(feed_mm=at, carriage_mm=carriage.stands(at, held)), _grip(now, at, g)
    return ()


def _choice(now: _Taking, at: float) -> float | None:
    """Return where to take the bar standing at a feed; None where that leads nowhere.

    The grip that serves most stops to come is taken; for the last stops the foremost that
    does, so that a bar somewhat short of its length still serves, before that the rearmost.
    """
    low, high, is_last = _common(now, at)
    wished = [low, high] if is_last else [high, low]
    for g in (*wished, *_beside_trouble(now, at, wished[0])):
        spot = on_grid(g)
        is_held = now.held is not None and abs(spot - now.held) <= GRID_MM
        if is_held or not low - GRID_MM <= spot <= high + GRID_MM:
            continue
        if now.carriage.is_sound(at, spot, now.done):
            return spot
    return None


def _common(now: _Taking, at: float) -> tuple[float, float, bool]:
    """Return the range of g that serves as many stops as can be, and whether that is all."""
    low, high = now.carriage.within(at)
    for count, stop in enumerate(now.stops[now.number :]):
        least, most = now.carriage.serving(stop)
        if max(low, least) <= min(high, most) + GRID_MM:
            low, high = max(low, least), min(high, most)
            continue
        if count == 0:
            # Out of reach from here: take the bar as far back as that goes, and come nearer.
            is_nearer = least > high and (now.held is None or high > now.held + GRID_MM)
            low = high if is_nearer else high + 1.0
        return low, high, False
    return low, high, True


def _beside_trouble(now: _Taking, at: float, wished: float) -> Iterator[float]:
    """Yield grips just clear of the holes made so far and of the clamp, the nearest first."""
    grip, jaw = now.carriage.grip, now.carriage.jaw
    spots = [end for low, high in holes(grip, now.done) for end in (high, low - jaw)]
    if grip.clamp_x_mm is not None:
        under = at - grip.clamp_x_mm
        spots += [under + 1.0, under - jaw - 1.0]
    yield from sorted(spots, key=lambda g: (abs(g - wished), g))


def _where(stop: Halt) -> str:
    if stop.cuts:
        return f"the cut at {decimal(stop.cuts[-1].heel_mm, 3)} mm"
    work = max(stop.jobs, key=lambda job: job.high).work
    return f"{work.feature} of piece {work.piece} ({work.mark})"


def _whose(stop: Halt) -> tuple[int | None, str | None]:
    if stop.jobs:
        work = max(stop.jobs, key=lambda job: job.high).work
        return work.piece, work.mark
    return next((cut.ahead or cut.behind for cut in stop.cuts), None), None


def _unreachable(carriage: Carriage, stop: Halt) -> Refused:
    piece, mark = _whose(stop)
    dead = carriage.jaw + carriage.clear
    rest = carriage.bar_length - max(stop.place, stop.reach(carriage.corners) - carriage.clear)
    if rest >= dead - GRID_MM:
        return _beyond_travel(carriage, stop)
    return Refused(
        rule="in-dead-end",
        message=f"{_where(stop)} is {decimal(rest, 3)} mm from the trailing end of the bar, less"
        f" than the {decimal(dead, 3)} mm that can't be brought under the tools",
        remedy="plan this piece for a longer bar, or farther to the front",
        piece=piece,
        mark=mark,
    )


def _beyond_travel(carriage: Carriage, stop: Halt) -> Refused:
    piece, mark = _whose(stop)
    travel = decimal(carriage.grip.travel_mm or 0.0, 3)
    if carriage.grip.can_regrip:
        message = (
            f"no grip brings {_where(stop)} under its tool: the carriage goes from"
            f" {decimal(carriage.back or 0.0, 3)} to {decimal(carriage.fore or 0.0, 3)} mm along"
            f" the machine, and the jaw stays {decimal(carriage.clear, 3)} mm behind the tool"
        )
    else:
        stands = carriage.stands(stop.feed, carriage.rearmost) or 0.0
        off = f"{decimal(-stands, 3)} mm behind its rearmost place"
        if stands > 0.0:
            beyond = stands - (carriage.grip.travel_mm or 0.0)
            off = f"{decimal(beyond, 3)} mm beyond its foremost place"
        message = (
            f"for {_where(stop)} the carriage would stand {off}: its travel is {travel} mm, and it"
            " can't regrip"
        )
    return Refused(
        rule="beyond-travel",
        message=message,
        remedy="plan for shorter bars, or for a machine whose carriage goes farther",
        piece=piece,
        mark=mark,
    )
