"""The shop's settings file, ``backmark.toml``, found upward from the input."""

import os
from collections.abc import Mapping
from fnmatch import fnmatchcase
from pathlib import Path
from types import MappingProxyType
from typing import Final

from msgspec import Struct, field
from msgspec.structs import replace

from translator.batch.bill_settings import TABLE as BILL
from translator.batch.bill_settings import BillSettings, read_bill_settings
from translator.batch.decisions import KEYS as DECISION_KEYS
from translator.batch.decisions import read_decisions
from translator.batch.discover import reason, shown
from translator.batch.paths import folder_of
from translator.batch.practice import KEYS as PRACTICE_KEYS
from translator.batch.practice import Fault, read_practice
from translator.batch.tolerances import TABLE as TOLERANCES
from translator.batch.tolerances import read_tolerances
from translator.batch.toml_fault import Faults, unreadable
from translator.conventions import Conventions, with_setting
from translator.documents.toml_places import places
from translator.documents.toml_text import toml_values
from translator.emitters import emitters
from translator.errors import UnknownNameError, WorkError
from translator.findings import Finding, Severity
from translator.pages._tolerances import ShopTolerances
from translator.rules._decisions import Decisions
from translator.rules._practice import Practice

FILE_NAME: Final = "backmark.toml"
LARGEST_BYTES: Final = 256_000

_OWN: Final = ("fail_on", "out", "excludes", "machines", "nc", "release", TOLERANCES, BILL)


class Configuration(Struct, frozen=True, kw_only=True):
    """What a settings file says.

    Attributes:
        path: the file; None when there is none.
        conventions: the table ``[nc]``.
        fail_on: least severity that makes a run fail; None when not said.
        out: output folder, beside the file unless absolute; None when not said.
        excludes: patterns of files and folders to leave out, from the file's own folder.
        machines: profiles of the shop's machines, beside the file unless absolute.
        formats: the list ``formats`` of the table ``[release]``.
        practice: code, limits and severities that the parts are judged by.
        decisions: the tables ``[[waiver]]`` and ``[[substitution]]``; None without any.
        tolerances: the table ``[tolerances]``, for the sheet of a first piece.
        bill: the table ``[bill]``, how to read the bill of a check.
        findings: faults of the file itself.
        data: its bytes.
    """

    path: Path | None = None
    conventions: Conventions = field(default_factory=Conventions)
    fail_on: Severity | None = None
    out: Path | None = None
    excludes: tuple[str, ...] = ()
    machines: tuple[Path, ...] = ()
    formats: tuple[str, ...] = ()
    practice: Practice = field(default_factory=Practice)
    decisions: Decisions | None = None
    tolerances: ShopTolerances = field(default_factory=ShopTolerances)
    bill: BillSettings = field(default_factory=BillSettings)
    findings: tuple[Finding, ...] = ()
    data: bytes = b""


class Configurations:
    """The settings file that each folder comes under, every file read once.

    The nearest ``backmark.toml`` in a folder or above it counts, whole: a file is judged by
    the same settings alone and among others.
    """

    def __init__(self, fixed: Path | None = None) -> None:
        """Look files up, or take ``fixed`` for every folder."""
        self._fixed = fixed
        self._nearest: dict[Path, Path | None] = {}
        self._spelt: dict[Path, Path] = {}
        self._read: dict[Path | None, Configuration] = {}
        self._known: dict[Path, Configuration] = {}

    def of(self, folder: Path) -> Configuration:
        """Return the settings that a folder comes under.

        Raises:
            WorkError: when its file can't be read.
        """
        if folder not in self._known:
            path = self._fixed if self._fixed is not None else self._nearest_to(folder)
            if path not in self._read:
                self._read[path] = read_configuration(path)
            self._known[folder] = self._read[path]
        return self._known[folder]

    def is_output(self, folder: Path) -> bool:
        """Tell whether a folder is where the settings around it put what is made."""
        out = self.of(folder.parent).out
        return out is not None and out.resolve() == folder.resolve()

    def excluded_by(self, name: str) -> Path | None:
        """Return the settings file that leaves a file out, None when none does.

        A pattern holds for the way from the settings file's folder, one without a slash for
        the name alone; a folder leaves out all that is in it.
        """
        own = self.of(folder_of(name))
        if own.path is None or not own.excludes:
            return None
        path = Path(name)
        top, full = own.path.resolve().parent, path.resolve()
        way = full.relative_to(top).as_posix() if full.is_relative_to(top) else full.name
        for pattern in own.excludes:
            is_inside = f"{way}/".startswith(f"{pattern.rstrip('/')}/")
            is_named = "/" not in pattern and fnmatchcase(full.name, pattern)
            if is_inside or is_named or fnmatchcase(way, pattern):
                return own.path
        return None

    def _nearest_to(self, folder: Path) -> Path | None:
        """Return the settings file of a folder as the caller spelt the way to it."""
        path = self._find(folder.resolve())
        if path is not None and path not in self._spelt:
            self._spelt[path] = _as_spelt(folder, path.parent) / FILE_NAME
        return None if path is None else self._spelt[path]

    def _find(self, folder: Path) -> Path | None:
        if folder not in self._nearest:
            own = folder / FILE_NAME
            # A folder of that name is taken too, to be refused when it is opened.
            is_here = own.is_file() or own.is_dir()
            is_top = folder.parent == folder
            above = None if is_top or is_here else self._find(folder.parent)
            self._nearest[folder] = own if is_here else above
        return self._nearest[folder]


def _as_spelt(folder: Path, top: Path) -> Path:
    """Return a folder at or above another one, spelt as that one is.

    Where links make that impossible it is told from the current folder, or in full when it
    does not lie in it. So findings are the same bytes wherever the tree stands.
    """
    here = folder.resolve()
    while here != top:
        here = here.parent
        above = folder / os.pardir if folder.name in ("", os.pardir) else folder.parent
        if above.resolve() != here:
            current = Path.cwd()
            return top.relative_to(current) if top.is_relative_to(current) else top
        folder = above
    return folder


def read_configuration(path: Path | None) -> Configuration:
    """Read a settings file; unknown keys and values are findings with their line.

    Raises:
        WorkError: when the file can't be read.
    """
    if path is None:
        return Configuration()
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise WorkError(f"can't read {shown(path)}: {reason(error)}") from error
    if len(data) > LARGEST_BYTES:
        raise WorkError(f"{shown(path)} is larger than 256 kB; a settings file is not")
    return understood(path, data)


def understood(path: Path, data: bytes) -> Configuration:
    """Return what the bytes of a settings file say; any bytes give findings, never an exception."""
    try:
        text = data.decode("utf-8-sig")
        table = toml_values(text)
    except (ValueError, RecursionError) as error:
        fault = unreadable(shown(path), "settings", error)
        return Configuration(path=path, findings=(fault,), data=data)
    return replace(_understand(path, text, table), data=data)


def _understand(path: Path, text: str, table: Mapping[str, object]) -> Configuration:
    where = places(shown(path), text)
    fault = Faults(where)
    settings = Configuration(path=path)
    for key, value in table.items():
        if key in _OWN:
            settings = _OWN_READERS[key](settings, value, fault)
        elif key not in (*PRACTICE_KEYS, *DECISION_KEYS):
            known = ", ".join((*_OWN, *PRACTICE_KEYS, *DECISION_KEYS))
            fault("setting-unknown", f"there is no setting {key!r}; there are {known}", "", key)
    practice = read_practice(table, fault)
    if not any(key in table for key in DECISION_KEYS):
        return replace(settings, practice=practice, findings=fault.found)
    decisions, said = read_decisions(table, where)
    return replace(settings, practice=practice, decisions=decisions, findings=(*fault.found, *said))


def _fail_on(settings: Configuration, value: object, fault: Fault) -> Configuration:
    if isinstance(value, str) and value in list(Severity):
        return replace(settings, fail_on=Severity(value))
    fault("setting-bad", f"fail_on is {value!r}; {_choice(Severity)}", "", "fail_on")
    return settings


def _out(settings: Configuration, value: object, fault: Fault) -> Configuration:
    if isinstance(value, str) and value and "\0" not in value and settings.path is not None:
        return replace(settings, out=settings.path.parent / value)
    fault("setting-bad", f"out is {value!r}; it takes the name of a folder", "", "out")
    return settings


def _excludes(settings: Configuration, value: object, fault: Fault) -> Configuration:
    if isinstance(value, list) and all(isinstance(one, str) and one for one in value):
        return replace(settings, excludes=tuple(value))
    takes = 'it takes a list of patterns, like ["old/*", "*-void.nc1"]'
    fault("setting-bad", f"excludes is {value!r}; {takes}", "", "excludes")
    return settings


def _machines(settings: Configuration, value: object, fault: Fault) -> Configuration:
    is_list = isinstance(value, list) and all(
        isinstance(one, str) and one and "\0" not in one for one in value
    )
    if is_list and isinstance(value, list) and settings.path is not None:
        folder = settings.path.parent
        return replace(settings, machines=tuple(folder / one for one in value))
    takes = 'it takes a list of profiles, like ["machines/line-1.machine.json"]'
    fault("setting-bad", f"machines is {value!r}; {takes}", "", "machines")
    return settings


def _nc(settings: Configuration, value: object, fault: Fault) -> Configuration:
    if not isinstance(value, Mapping):
        fault("setting-bad", f"nc is {value!r}; it is a table, [nc]", "", "nc")
        return settings
    for name, choice in value.items():
        try:
            changed = with_setting(settings.conventions, name, _word(choice))
            settings = replace(settings, conventions=changed)
        except UnknownNameError as error:
            fault("setting-unknown", f"in [nc], {error}", "nc", name)
    return settings


def _release(settings: Configuration, value: object, fault: Fault) -> Configuration:
    if not isinstance(value, Mapping):
        fault("setting-bad", f"release is {value!r}; it is a table, [release]", "", "release")
        return settings
    for key in value:
        if key != "formats":
            message = f"in [release], there is no setting {key!r}; there is formats"
            fault("setting-unknown", message, "release", key)
    named = value.get("formats", [])
    known = tuple(emitter.name for emitter in emitters())
    if isinstance(named, list) and all(one in known for one in named):
        return replace(settings, formats=tuple(named))
    takes = f"it takes a list of some of {', '.join(known)}"
    fault("setting-bad", f"in [release], formats is {named!r}; {takes}", "release", "formats")
    return settings


def _tolerances(settings: Configuration, value: object, fault: Fault) -> Configuration:
    return replace(settings, tolerances=read_tolerances(value, fault))


def _bill(settings: Configuration, value: object, fault: Fault) -> Configuration:
    return replace(settings, bill=read_bill_settings(value, fault))


_OWN_READERS: Final = MappingProxyType(
    {
        "fail_on": _fail_on,
        "out": _out,
        "excludes": _excludes,
        "machines": _machines,
        "nc": _nc,
        "release": _release,
        TOLERANCES: _tolerances,
        BILL: _bill,
    }
)


def _word(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _choice(kind: type[Severity]) -> str:
    return "it takes " + ", ".join(member.value for member in kind)
