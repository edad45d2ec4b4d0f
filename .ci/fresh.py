"""Write the files that are generated, or with ``--check`` say which of them are stale.

Each entry is a path and a function from what the file holds now to what it should hold.
"""  # noqa: INP001 - a script, no package

import json
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from translator.bars.estimate_document import estimate_schema
from translator.bars.plan_document import plan_schema
from translator.bars.program_document import program_schema
from translator.batch.decision_words import waivers_schema
from translator.batch.index import index_schema
from translator.batch.part_list_document import part_list_schema
from translator.batch.settings_schema import settings_schema
from translator.changes.schema import changes_schema
from translator.conventions import Conventions
from translator.emitters import EmitOptions
from translator.emitters._schema import part_schema
from translator.emitters.part_json import EMITTER
from translator.json_text import json_text
from translator.machines.schema import machine_schema
from translator.readers.part_json import READER
from translator.release.schema import release_schema
from translator.release.verification import verification_schema
from translator.reports._schema import findings_schema
from translator.rules import rules
from translator.rules._catalogue import catalogue
from translator.source import Source
from translator.syntax.building import table_document
from translator.syntax.ebnf import summary

ROOT: Final = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(Path(__file__).resolve().parent))
import limits  # noqa: E402 - scripts beside this one
from pictures import DRAWN  # noqa: E402

_SHOWN: Final = re.compile(r"(<!-- output: (.*?) -->\n(```text\n))(?:.*?\n)??(```\n)", re.DOTALL)
_SUMMARY: Final = re.compile(r"(```ebnf\n)(?:.*?\n)??(```\n)", re.DOTALL)
_EXAMPLE: Final = re.compile(r"(?<=```json\n)\{\n.*?\n\}\n(?=```\n)", re.DOTALL)


def schemas_readme(now: str) -> str:
    """Write the example of the interchange reference again, from the part it holds itself."""
    return _EXAMPLE.sub(lambda match: _written_again(match[0]), now)


def _written_again(document: str) -> str:
    bare = json.loads(document)
    bare.pop("computed", None)
    source = Source(path="schemas/README.md", data=json.dumps(bare).encode())
    reading = READER.lower(READER.parse(source), Conventions())
    if reading.findings:
        raise SystemExit(f"schemas/README.md: {reading.findings[0].message}")
    return EMITTER.emit(reading.parts[0].part, EmitOptions()).decode()


def readme(now: str) -> str:
    """Write the outputs that the README shows again, by running the commands it names."""
    return _SHOWN.sub(lambda match: f"{match[1]}{_output(match[2])}{match[4]}", now)


def language(now: str) -> str:
    """Write the summary of the language reference again, from the grammar."""
    return _SUMMARY.sub(lambda match: f"{match[1]}{summary()}\n{match[2]}", now)


def _output(command: str) -> str:
    program, *arguments = command.split()
    if program != "backmark":
        raise SystemExit(f"README.md shows the output of {program}, which is not ours")
    ran = subprocess.run(  # noqa: S603 - our own command, named in our own README
        [sys.executable, "-m", "translator", *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return f"$ {command}\n{ran.stdout}"


GENERATED: Final[tuple[tuple[str, Callable[[str], str]], ...]] = (
    ("grammar/part.table.json", lambda _: json_text(table_document())),
    ("schemas/part.schema.json", lambda _: json_text(part_schema())),
    ("schemas/findings.schema.json", lambda _: json_text(findings_schema())),
    ("schemas/index.schema.json", lambda _: json_text(index_schema())),
    ("schemas/machine.schema.json", lambda _: json_text(machine_schema())),
    ("schemas/changes.schema.json", lambda _: json_text(changes_schema())),
    ("schemas/program.schema.json", lambda _: json_text(program_schema())),
    ("schemas/waivers.schema.json", lambda _: json_text(waivers_schema())),
    ("schemas/part-list.schema.json", lambda _: json_text(part_list_schema())),
    ("schemas/plan.schema.json", lambda _: json_text(plan_schema())),
    ("schemas/config.schema.json", lambda _: json_text(settings_schema())),
    ("schemas/estimate.schema.json", lambda _: json_text(estimate_schema())),
    ("schemas/release.schema.json", lambda _: json_text(release_schema())),
    ("schemas/verification.schema.json", lambda _: json_text(verification_schema())),
    ("schemas/README.md", schemas_readme),
    ("schemas/LIMITS.md", lambda _: limits.page()),
    ("README.md", readme),
    ("grammar/README.md", language),
    *DRAWN,
    ("translator/rules/CATALOGUE.md", lambda _: catalogue(rules())),
)


def stale() -> dict[str, str]:
    """Return the files that do not hold what they should, and what they should hold."""
    out: dict[str, str] = {}
    for name, function in GENERATED:
        path = ROOT / name
        now = path.read_bytes().decode() if path.is_file() else ""
        fresh = function(now)
        if fresh != now:
            out[name] = fresh
    return out


def main(arguments: list[str]) -> int:
    """Write what is stale, or only name it; return 1 when a check finds something."""
    found = stale()
    for name, fresh in found.items():
        if arguments != ["--check"]:
            (ROOT / name).write_bytes(fresh.encode())
        sys.stdout.write(f"{name} {'is stale' if arguments == ['--check'] else 'written'}\n")
    return 1 if found and arguments == ["--check"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
