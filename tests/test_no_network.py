"""No network, no other program, nothing run that a file brings: looked for in the code and seen.

Each command runs in a process whose interpreter ends it at the first reach for a socket, another
program or pickled bytes (``guard.py``). What the processes of one run hand each other is the one
use of pickle: those bytes come from this program alone.
"""

import ast
import subprocess
import sys
import zipfile
from pathlib import Path

import click
import pytest
from guard import STATUS

import translator
from translator.commands import main

ROOT = Path(translator.__file__).resolve().parent
TESTS = Path(__file__).resolve().parent
SAMPLES = TESTS.parent / "samples"
GOOD = SAMPLES / "tern-quay" / "stair"
LINE = SAMPLES / "machines" / "punch-and-drill-line.machine.json"

RUNS = {
    "check": (GOOD, "--no-cache", "--jobs", "1", "--machine", LINE),
    "translate": (GOOD, "--to", "json,dxf,svg,nc,bmk", "--out", "made", "--verify"),
    "show": (GOOD, "S61"),
    "format": ("--check", GOOD.parent / "clips.bmk"),
    "rules": (),
    "inspect": (GOOD, "--out", "sheets"),
    "list": (GOOD, "--format", "csv"),
    "estimate": (GOOD, "--machine", LINE),
    "release": (GOOD, "--to", "frozen", "--by", "QA"),
    "compare": (GOOD, GOOD, "--format", "html"),
    "labels": (GOOD, "--format", "csv"),
    "setup": (GOOD, "--machine", LINE),
    "plan": (GOOD, "--machine", LINE, "--standard", "20'"),
}
"""Command -> its arguments; of a command that is not named here its help is run."""


def guarded(folder, *arguments, between="alone"):
    """Run the command line under watch; return its exit code and what it said."""
    done = subprocess.run(
        [sys.executable, str(TESTS / "guard.py"), between, *map(str, arguments)],
        cwd=folder,
        env={"XDG_CACHE_HOME": str(folder / "cache"), "PATH": "", "PYTHONUTF8": "1"},
        capture_output=True,
        check=False,
    )
    return done.returncode, (done.stdout + done.stderr).decode()


def test_the_runs_are_of_commands_that_there_are():
    assert set(RUNS) <= set(main.list_commands(click.Context(main)))


@pytest.mark.parametrize("name", main.list_commands(click.Context(main)))
def test_no_command_reaches_out(tmp_path, name):
    given = RUNS.get(name, ("--help",))
    code, said = guarded(tmp_path, name, *given)
    assert "FORBIDDEN" not in said
    assert code in (0, 1), said


def test_a_run_with_an_archive_a_cache_and_reports_reaches_nowhere(tmp_path):
    with zipfile.ZipFile(tmp_path / "d.zip", "w") as archive:
        for path in sorted(GOOD.iterdir()):
            archive.write(path, path.name)
    for kind in ("json", "html"):
        code, said = guarded(tmp_path, "check", "d.zip", "--jobs", "1", "--format", kind)
        assert "FORBIDDEN" not in said
        assert code in (0, 1), said


def test_processes_of_one_run_hand_each_other_values_and_nothing_else(tmp_path):
    code, said = guarded(tmp_path, "check", GOOD, "--jobs", "2", between="pool")
    assert "FORBIDDEN" not in said
    assert code in (0, 1), said


REACHES = {
    "socket": "import socket; socket.socket()",
    "name": "import socket; socket.getaddrinfo('localhost', 80)",
    "page": "import urllib.request; urllib.request.urlopen('http://127.0.0.1:9')",
    "program": "import subprocess; subprocess.run(['true'])",
    "shell": "import os; os.system('true')",
    "pickle": "import pickle; pickle.loads(b'cos\\nsystem\\n.')",
}


@pytest.mark.parametrize("code", REACHES.values(), ids=REACHES)
def test_the_watch_sees_what_it_is_to_see(tmp_path, code):
    status, said = guarded(tmp_path, "-c", code)
    assert status == STATUS
    assert said.startswith("FORBIDDEN ")


# ------------------------------------------------------------------ in the code

NO_MODULES = {
    *("pickle", "cPickle", "marshal", "shelve", "dbm", "dill", "cloudpickle", "joblib"),
    *("subprocess", "pty", "ctypes", "cffi", "runpy", "code", "codeop", "imp", "webbrowser"),
    *("socket", "socketserver", "ssl", "http", "ftplib", "smtplib", "imaplib", "poplib", "xmlrpc"),
    *("telnetlib", "requests", "httpx", "aiohttp", "urllib3", "yaml", "asyncore"),
    *("xml.etree.ElementTree", "xml.sax", "xml.dom", "lxml"),  # entities that grow
}
NO_CALLS = {"eval", "exec", "compile", "__import__", "execfile", "breakpoint"}
NO_METHODS = {
    "os": {"system", "popen", "startfile", "fork", "forkpty"},
    "tempfile": {"mktemp"},
}
SPAWNS = ("exec", "spawn", "posix_spawn")
PARTS_ALLOWED = {"urllib.parse", "xml.sax.saxutils"}
"""Of a forbidden package, what only turns text into text."""


def faults(text):
    """Yield what a module's text imports or calls that it must not."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import | ast.ImportFrom):
            named = [alias.name for alias in node.names]
            names = named if isinstance(node, ast.Import) else [node.module or ""]
            for name in names:
                is_odd = name in NO_MODULES or name.split(".")[0] in {*NO_MODULES, "urllib"}
                if is_odd and name not in PARTS_ALLOWED:
                    yield f"imports {name}"
        elif isinstance(node, ast.Call):
            yield from _call_faults(node.func)


def _call_faults(called):
    if isinstance(called, ast.Name) and called.id in NO_CALLS:
        yield f"calls {called.id}"
    if isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
        module, name = called.value.id, called.attr
        is_spawn = module == "os" and name.startswith(SPAWNS)
        if is_spawn or name in NO_METHODS.get(module, set()):
            yield f"calls {module}.{name}"


def test_no_module_can_reach_out_or_run_what_a_file_brings():
    modules = sorted(ROOT.rglob("*.py"))
    assert len(modules) > 100
    told = {
        path.relative_to(ROOT).as_posix(): list(faults(path.read_text(encoding="utf-8")))
        for path in modules
    }
    assert {name: said for name, said in told.items() if said} == {}


FAULTY = {
    "import pickle": "imports pickle",
    "from http.client import X": "imports http.client",
    "import urllib.request": "imports urllib.request",
    "from urllib import parse": "imports urllib",
    "def f():\n    import subprocess as s": "imports subprocess",
    "eval('1')": "calls eval",
    "import os\nos.execv('a', [])": "calls os.execv",
    "import os\nos.system('a')": "calls os.system",
}


@pytest.mark.parametrize(("text", "fault"), FAULTY.items(), ids=FAULTY)
def test_the_look_into_the_code_sees_what_it_is_to_see(text, fault):
    assert fault in list(faults(text))


def test_the_look_into_the_code_lets_text_be_turned_into_text():
    sound = "from urllib.parse import quote\nimport re\nre.compile('a')\nquote('a')"
    assert list(faults(sound)) == []
