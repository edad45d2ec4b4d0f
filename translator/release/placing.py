"""Put a release in its place: whole, or not at all."""

import contextlib
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final

from translator.batch.discover import reason, shown
from translator.batch.write import sync_folder
from translator.errors import WorkError
from translator.release.document import MANIFEST, SUMS

_STAGE: Final = ".backmark-release"
_LOCK: Final = ".backmark-lock"
_TRIES: Final = 5


def holds_release(folder: Path) -> bool:
    """Tell whether a folder holds a release, be it a spoilt one."""
    return any(os.path.lexists(folder / name) for name in (MANIFEST, SUMS))


def refuse_taken(folder: Path) -> None:
    """Refuse a place where something lies already.

    Raises:
        WorkError: unless nothing is there, or an empty folder.
    """
    try:
        why = _taken(folder)
    except OSError as error:
        raise WorkError(f"can't look at {shown(folder)}: {reason(error)}") from error
    if why:
        raise WorkError(why)


def _taken(folder: Path) -> str:
    if not os.path.lexists(folder):
        return ""
    if holds_release(folder):
        return (
            f"{shown(folder)} holds a release, and a release is never written over; to make the"
            f" next one name a new folder and add --supersedes {shown(folder)}"
        )
    if not folder.is_dir() or folder.is_symlink() or any(folder.iterdir()):
        return f"{shown(folder)} is there already; name a folder that is not"
    return ""


def place(folder: Path, files: Iterable[tuple[str, bytes]], may_appear: Callable[[], bool]) -> None:
    """Write the files of a release, and only then let the release appear.

    They are written into a hidden folder beside the target, in the order given, and put on the
    disk before that folder takes the target's name. Whatever ends this run, the release is
    there whole or not there; a hidden folder that a killed run left is taken away by the next
    release made beside it.

    Args:
        folder: the target; it must not hold anything.
        files: path in the release and bytes of each.
        may_appear: asked once all are written; on False nothing is left.

    Raises:
        WorkError: when the disk refuses, the target is taken, or another run is at it; the
            message is a sentence.
    """
    target = Path(os.path.abspath(folder))  # noqa: PTH100 - a link in it is no matter of ours
    made: list[Path] = []
    try:
        made = _make_above(target)
        with _locked(target):
            _clear(target.parent)
            refuse_taken(folder)
            has_appeared = _write_aside(target, files, may_appear)
        made = [] if has_appeared else made
    except WorkError:
        raise
    except OSError as error:
        raise WorkError(f"can't write the release {shown(folder)}: {reason(error)}") from error
    finally:
        with contextlib.suppress(OSError):  # a folder that holds something by now stays
            for above in made:
                above.rmdir()


def _write_aside(
    target: Path, files: Iterable[tuple[str, bytes]], may_appear: Callable[[], bool]
) -> bool:
    stage = _beside(target, _STAGE)
    if os.path.lexists(stage):  # a run that was killed left it: the lock is ours now
        stage.unlink() if stage.is_symlink() else shutil.rmtree(stage)
    try:
        _fill(stage, files)
        if may_appear():
            _appear(stage, target)
            return True
    finally:
        shutil.rmtree(stage, ignore_errors=True)
    return False


def _make_above(target: Path) -> list[Path]:
    """Make the folders above a target; return the new ones, the deepest first."""
    new = [path for path in target.parents if not path.exists()]
    target.parent.mkdir(parents=True, exist_ok=True)
    return new


def _beside(target: Path, ending: str) -> Path:
    return target.with_name(f".{target.name}{ending}")


def _fill(stage: Path, files: Iterable[tuple[str, bytes]]) -> None:
    stage.mkdir()
    folders = {stage}
    written: list[Path] = []
    for name, data in files:
        path = stage / name
        if path.parent not in folders:
            path.parent.mkdir(parents=True, exist_ok=True)
            folders.update(p for p in path.parents if p.is_relative_to(stage))
        _write(path, data)
        written.append(path)
    # All at the end: the disk then works through them in its own order, not one by one.
    for path in written:
        with path.open("r+b") as stream:
            os.fsync(stream.fileno())
    for folder in sorted(folders):
        sync_folder(folder)


def _write(path: Path, data: bytes) -> None:
    with path.open("xb") as stream:
        stream.write(data)


def _appear(stage: Path, target: Path) -> None:
    if target.is_dir():
        target.rmdir()  # an empty one; a filled one is refused here by the system itself
    stage.rename(target)
    sync_folder(target.parent)


def _clear(parent: Path) -> None:
    """Take away what killed runs left: hidden folders of releases that no run has locked."""
    for stage in sorted(parent.glob(f".*{_STAGE}")):
        target = parent / stage.name.removeprefix(".").removesuffix(_STAGE)
        if stage.is_dir() and not stage.is_symlink() and not _is_at_work(target):
            shutil.rmtree(stage)
    for lock in sorted(parent.glob(f".*{_LOCK}")):
        target = parent / lock.name.removeprefix(".").removesuffix(_LOCK)
        if not _is_at_work(target):
            lock.unlink(missing_ok=True)


def _is_at_work(target: Path) -> bool:
    """Tell whether a run is making a release: this one, or another."""
    path = _beside(target, _LOCK)
    if not path.exists():
        return False
    handle = os.open(path, os.O_RDWR)
    try:
        return not _lock(handle)
    finally:
        os.close(handle)


@contextlib.contextmanager
def _locked(target: Path) -> Iterator[None]:
    """Keep a target to this run; the system lets go of it when the run is killed."""
    path = _beside(target, _LOCK)
    for _ in range(_TRIES):
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            if not _lock(handle):
                break
            if not _is_there(path, handle):
                continue  # the run before us has just taken its lock away
            try:
                yield
            finally:
                with contextlib.suppress(OSError):  # where an open file can't be taken away
                    path.unlink()
            return
        finally:
            os.close(handle)
    raise WorkError(f"another run is making the release {shown(target)}")


def _is_there(path: Path, handle: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(handle))
    except FileNotFoundError:
        return False


def _lock(handle: int) -> bool:
    """Take the lock on a file without waiting; False when another run has it."""
    if sys.platform == "win32":
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
    import fcntl

    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True
