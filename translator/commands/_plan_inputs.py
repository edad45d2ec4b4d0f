"""What a cutting plan is made of: parts or a release, stock lists, and what is cut already."""

from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from translator.commands._console import remark
from translator.commands._delivery import Delivery, Wanted, take
from translator.errors import WorkError
from translator.source import printable

if TYPE_CHECKING:
    from collections.abc import Iterable

    from translator.bars.demand import ProgressList
    from translator.bars.plan_model import StockLine, Unplaced
    from translator.findings import Finding
    from translator.model import Placed
    from translator.release.manifest import Release
    from translator.source import Source

_PART_DOCUMENTS = "files/json/"


class Parts(Struct, frozen=True, kw_only=True):
    """Parts to plan, those that are left out, and the delivery that they came in."""

    delivery: Delivery
    ready: "tuple[Placed, ...]"
    left_out: "tuple[Unplaced, ...]"
    is_released: bool


def parts_of(wanted: Wanted, out: Path | None) -> Parts:
    """Read the parts that a command line names: part files and folders, or one release.

    Of a release only marks that are not on hold are planned, from its part documents, after
    every file was held against the manifest.

    Raises:
        WorkError: when a path is no good, or the release was changed.
    """
    if len(wanted.paths) == 1 and (Path(wanted.paths[0]) / "release.json").is_file():
        return _released(wanted, Path(wanted.paths[0]), out)
    delivery = take(wanted, out)
    pairs = list(zip(delivery.outcome.parts, delivery.outcome.refused, strict=True))
    ready = tuple(placed for placed, why in pairs if not why)
    left_out = tuple(_refused(placed, why) for placed, why in pairs if why)
    return Parts(delivery=delivery, ready=ready, left_out=left_out, is_released=False)


def _refused(placed: "Placed", why: str) -> "Unplaced":
    from translator.bars.demand import source_of
    from translator.bars.plan_model import Unplaced

    part = placed.part
    return Unplaced(
        order=part.order,
        mark=part.mark,
        source=source_of(placed),
        count=part.quantity,
        kind="refused",
        why=printable(why),
    )


def _released(wanted: Wanted, folder: Path, out: Path | None) -> Parts:
    from translator.batch.discover import shown
    from translator.commands._release_proof import prove

    proof = prove(folder, rederive=False, key_file=None, digest=None)
    release = proof.checked.release
    if release is None or not proof.is_untouched:
        raise WorkError(
            f"{shown(folder)} is not the release that its manifest tells of:"
            f" backmark verify {shown(folder)} says what was changed"
        )
    paths = [
        path for mark in release.marks for path in mark.files if path.startswith(_PART_DOCUMENTS)
    ]
    if not paths:
        raise WorkError(f"{shown(folder)} holds no part documents: release it in the format json")
    own = replace(wanted, paths=tuple((folder / path).as_posix() for path in paths))
    delivery = take(own, out)
    return Parts(
        delivery=delivery,
        ready=delivery.outcome.parts,
        left_out=tuple(_held(release, folder)),
        is_released=True,
    )


def _held(release: "Release", folder: Path) -> "Iterable[Unplaced]":
    from translator.bars.plan_model import Unplaced

    for mark in release.marks:
        if mark.status == "on hold":
            yield Unplaced(
                order=mark.order,
                mark=mark.mark,
                source=printable((folder / "release.json").as_posix()),
                count=mark.quantity,
                kind="on-hold",
                why=f"on hold: {mark.reason}",
            )


def stock_of(path: Path) -> "tuple[StockLine, ...]":
    """Read a stock list.

    Raises:
        WorkError: when it can't be read, or a line of it is no good.
    """
    from translator.bars.stock import read_stock

    read = read_stock(_source(path))
    tell(read.findings)
    if not read.is_sound:
        raise WorkError(f"the stock list {path.as_posix()} has errors: see above")
    return read.lines


def progress_of(path: Path | None) -> "ProgressList | None":
    """Read what is cut already.

    Raises:
        WorkError: when it can't be read, or a line of it is no good.
    """
    from translator.bars.demand import read_progress

    if path is None:
        return None
    read = read_progress(_source(path))
    tell(read.findings)
    if not read.is_sound:
        raise WorkError(f"the table {path.as_posix()} has errors: see above")
    return read


def tell(findings: "Iterable[Finding]") -> None:
    """Say findings on the side."""
    for finding in findings:
        span = finding.span
        remark(printable(f"{span.path}:{span.line}: {finding.severity.value}: {finding.message}"))


def _source(path: Path) -> "Source":
    from translator.batch.discover import reason, shown
    from translator.documents.csv_table import LARGEST_BYTES
    from translator.source import Source

    try:
        with path.open("rb") as stream:
            return Source(path=shown(path), data=stream.read(LARGEST_BYTES + 1))
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "no path can be spelt so"
        raise WorkError(f"can't read {shown(path)}: {why}") from error
