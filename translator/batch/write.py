"""Put files on the disk: all of them whole, or none."""

import contextlib
import os
from collections.abc import Callable, Iterable
from pathlib import Path

from translator.batch.discover import reason, shown
from translator.errors import WorkError


def write_all(
    folder: Path,
    files: Iterable[tuple[str, bytes]],
    may_keep: Callable[[], bool] = lambda: True,
) -> tuple[str, ...]:
    """Write files into a folder, which is made when there is a file to write.

    Every file is first written whole under a hidden name beside its target; only when all are
    safely on the disk do they take their names. ``files`` may be a generator: nothing is
    visible until it has run to its end, and nothing at all if it raises.

    Args:
        folder: where to.
        files: name and bytes of each.
        may_keep: asked once all are made; on False nothing is left, not even the folder.

    Returns:
        The names written, in order.

    Raises:
        WorkError: when the disk refuses; the message is a sentence.
    """
    waiting: list[tuple[Path, str]] = []
    made: list[Path] = []
    target = folder
    names: tuple[str, ...] = ()
    try:
        for name, data in files:
            if not waiting:
                made = _make(folder)
            target = folder / name
            waiting.append((_beside(folder, len(waiting)), name))
            _write(waiting[-1][0], data)
        if may_keep():
            for hidden, name in waiting:
                target = folder / name
                hidden.replace(target)
            names = tuple(name for _, name in waiting)
    except WorkError:
        raise
    except OSError as error:
        raise WorkError(f"can't write {shown(target)}: {reason(error)}") from error
    finally:
        _tidy([hidden for hidden, _ in waiting], () if names else made)
    if names:
        sync_folder(folder)
    return names


def _tidy(hidden: Iterable[Path], made: Iterable[Path]) -> None:
    """Take away what did not get its name, and folders that were made for nothing."""
    for path in hidden:
        path.unlink(missing_ok=True)
    with contextlib.suppress(OSError):  # a folder that holds something by now stays
        for folder in made:
            folder.rmdir()


def _make(folder: Path) -> list[Path]:
    """Make a folder and those above it; return the new ones, the deepest first."""
    new = [path for path in (folder, *folder.parents) if not path.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise WorkError(f"can't make the folder {shown(folder)}: {reason(error)}") from error
    return new


def _beside(folder: Path, number: int) -> Path:
    return folder / f".backmark-{os.getpid()}-{number}.tmp"


def _write(path: Path, data: bytes) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with open(os.open(path, flags, 0o666), "wb") as stream:  # noqa: PTH123 - needs the flags
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())


def sync_folder(folder: Path) -> None:
    """Wait until the names in a folder are on the disk."""
    # Some systems can't open a folder; there the rename alone has to do.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
