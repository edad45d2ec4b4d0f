"""How the house is built: what a reader of the code may rely on everywhere."""

import ast
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
import tomllib
from dataclasses import is_dataclass
from functools import cache
from pathlib import Path

import pytest

import translator

ROOT = Path(translator.__file__).resolve().parent
MODULES = sorted(ROOT.rglob("*.py"))
NAMES = [
    m.name
    for m in pkgutil.walk_packages(translator.__path__, "translator.")
    if not m.name.endswith("__main__")  # importing it runs it
]

LONGEST_MODULE = 300
LONGEST_PIPELINE = 150
LONGEST_FUNCTION = 50

LONGER: dict[str, str] = {}
"""Module longer than 300 lines -> the reason why it may be."""

MUTABLE = ("list", "dict", "set", "defaultdict", "Counter", "deque", "OrderedDict")

CHANGING = (
    *("append", "extend", "insert", "remove", "pop", "clear", "sort", "reverse"),
    *("update", "setdefault", "popitem", "add", "discard", "appendleft", "popleft"),
)


def _floors():
    """Return room -> floor as the import contract of the project has them, ground floor 0."""
    data = tomllib.loads((ROOT.parent / "pyproject.toml").read_text(encoding="utf-8"))
    (layers,) = (c["layers"] for c in data["tool"]["importlinter"]["contracts"] if "layers" in c)
    return {
        name.strip().removeprefix("translator."): floor
        for floor, names in enumerate(reversed(layers))
        for name in names.split("|")
    }


def _relative(path):
    return path.relative_to(ROOT).as_posix()


def _each(paths=MODULES):
    return [pytest.param(path, id=_relative(path)) for path in paths]


@cache
def _tree(path):
    return ast.parse(path.read_text(encoding="utf-8"))


def test_there_is_a_house_to_look_at():
    assert len(MODULES) > 40
    assert {"translator.pipeline", "translator.rules._run"} <= set(NAMES)


def test_no_module_is_a_drawer():
    assert not [n for n in NAMES if re.search(r"(util|common|helper|misc|manager)s?$", n)]


@pytest.mark.parametrize("path", _each())
def test_modules_and_functions_stay_short(path):
    lines = len(path.read_text(encoding="utf-8").splitlines())
    name = _relative(path)
    if name in LONGER:
        assert lines > LONGEST_MODULE, f"{name} needs its exception no longer"
    else:
        limit = LONGEST_PIPELINE if name == "pipeline.py" else LONGEST_MODULE
        assert lines <= limit
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.FunctionDef):
            assert node.end_lineno is not None
            assert node.end_lineno - node.lineno < LONGEST_FUNCTION, f"{name}: {node.name}"


@pytest.mark.parametrize("path", _each(p for p in MODULES if "commands" not in p.parts))
def test_only_commands_print_or_exit(path):
    if path.name == "__main__.py":
        return
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func)
            assert called not in ("print", "sys.exit", "exit", "quit", "os._exit", "input")
            assert not called.startswith(("click.", "sys.stdout.", "sys.stderr.", "warnings."))


def _changes(tree, name):
    """Return the lines on which something of that name is changed in place."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            if ast.unparse(node.func.value) == name and node.func.attr in CHANGING:
                yield node.lineno
        elif isinstance(node, ast.Subscript) and isinstance(node.ctx, ast.Store | ast.Del):
            if ast.unparse(node.value) == name:
                yield node.lineno
        elif isinstance(node, ast.Global) and name in node.names:
            yield node.lineno


@pytest.mark.parametrize("path", _each())
def test_no_module_keeps_state_that_changes(path):
    tree = _tree(path)
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            value = node.value
            is_open = isinstance(value, ast.List | ast.Dict | ast.Set | ast.ListComp | ast.DictComp)
            is_open |= isinstance(value, ast.Call) and ast.unparse(value.func) in MUTABLE
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for name in map(ast.unparse, targets):
                assert not (is_open and list(_changes(tree, name))), name
        assert not isinstance(node, ast.AugAssign)


CLOCK = {"commands/_release_terms.py": "a release says when it was made, unless it is told"}
"""Module that asks what time it is -> why it may."""


STOPWATCH = {"commands/_progress.py": "a bar on the terminal tells the rate and the time left"}
"""Module that measures how long something takes -> why it may."""


@pytest.mark.parametrize("path", _each())
def test_no_clock_no_chance_no_locale(path):
    tree = _tree(path)
    imported = {a.name for n in ast.walk(tree) if isinstance(n, ast.Import) for a in n.names}
    imported |= {n.module for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.module}
    if _relative(path) in STOPWATCH:
        imported.remove("time")
    assert not imported & {"random", "time", "locale", "uuid", "secrets"}
    calls = {ast.unparse(n.func) for n in ast.walk(tree) if isinstance(n, ast.Call)}
    asks = [c for c in calls if re.search(r"\.(now|utcnow|today)$", c)]
    assert bool(asks) == (_relative(path) in CLOCK)


WITHOUT_SLOTS = {"translator.tables.figures.Measure": "its millimetres are worked out once"}
"""Value that keeps what it works out -> what that is."""


def test_every_value_is_frozen_slotted_and_keyword_only():
    from msgspec import Struct

    seen = 0
    for name in NAMES:
        module = importlib.import_module(name)
        for cls in vars(module).values():
            if not (inspect.isclass(cls) and cls.__module__ == name and issubclass(cls, Struct)):
                continue
            seen += 1
            assert cls.__struct_config__.frozen, cls
            has_slots = cls.__dictoffset__ == 0
            assert has_slots or f"{name}.{cls.__name__}" in WITHOUT_SLOTS, cls
            assert not cls.__match_args__, cls  # nothing is given by its position
    assert seen > 300


def test_no_value_is_a_dataclass():
    """Each would cost a program that starts for one file more than its file does."""
    for name in NAMES:
        own = [v for v in vars(importlib.import_module(name)).values() if inspect.isclass(v)]
        assert not any(is_dataclass(cls) for cls in own if cls.__module__ == name), name


def test_every_model_value_is_frozen_and_strict():
    from pydantic import BaseModel

    from translator import model

    classes = [c for c in vars(model).values() if inspect.isclass(c) and issubclass(c, BaseModel)]
    assert len(classes) > 15
    for cls in classes:
        assert cls.model_config["frozen"]
        assert cls.model_config["strict"]
        assert cls.model_config["extra"] == "forbid"


def _room(name):
    parts = name.split(".")
    return parts[1] if len(parts) > 1 and parts[0] == "translator" else None


@pytest.mark.parametrize("path", _each())
def test_imports_point_down(path):
    floors = _floors()
    own = path.relative_to(ROOT).parts[0].removesuffix(".py")
    if own in ("__init__", "__main__"):
        return
    for node in ast.walk(_tree(path)):
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module, *(f"{node.module}.{a.name}" for a in node.names)]
        elif isinstance(node, ast.Import):
            names = [a.name for a in node.names]
        else:
            continue
        for room in {_room(n) for n in names} & set(floors):
            assert room == own or floors[room] < floors[own], f"{_relative(path)} imports {room}"


def _printed(code):
    """Run some code in a process of its own, which must not complain; return what it prints."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    return done.stdout


def test_asking_for_the_version_loads_nothing_heavy():
    code = (
        "import sys\n"
        "from translator.commands import main\n"
        "try:\n    main(['--version'])\n"
        "except SystemExit as end:\n    assert end.code == 0, end.code\n"
        "heavy = {'pydantic', 'lark', 'ezdxf', 'jsonschema', 'shapely'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    assert _printed(code) == f"backmark, version {translator.__version__}\n"


def test_the_version_alone_is_told_without_the_command_line():
    code = (
        "import runpy, sys\nsys.argv[1:] = ['--version']\n"
        "runpy.run_module('translator', run_name='__main__')\n"
        "heavy = {'click', 'msgspec', 'translator.commands'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    assert _printed(code) == f"backmark, version {translator.__version__}\n"


def test_checking_a_part_loads_no_drawing_or_outside_geometry_library():
    code = (
        "import sys, translator.pipeline as p\n"
        "from translator.readers import readers\nfrom translator.emitters import emitters\n"
        "from translator.rules import rules\nfrom translator.reports import reports\n"
        "readers(), emitters(), rules(), reports()\n"
        "heavy = {'ezdxf', 'jsonschema', 'shapely', 'numpy'} & set(sys.modules)\n"
        "assert not heavy, heavy\n"
    )
    assert _printed(code) == ""
