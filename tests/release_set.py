"""A small delivery to release, and the commands that release and verify it."""

import hashlib
import json
from pathlib import Path

from click.testing import CliRunner, Result

from translator.commands import main

SAMPLES = Path(__file__).parent.parent / "samples"
NOON = "2026-01-31T12:00:00Z"

LIBRARY = """\
units inch
family strip(long) {
  section  flat width 2-1/2 thickness 3/8
  length   long
  face { holes bolt 3/4  gauge 1-1/4  at 1-1/4 }
}
"""
PARTS = """\
use "library.bmk"
units inch
contract "TQ-7"   drawing "E-120"   rev "A"
grade A36

part P1 "strip" = strip(long = 9) { qty 4 }
part P2 "strip" = strip(long = 12) { qty 2 }
"""
SETTINGS = """\
[nc]
u_view_bottom = "toe"
"""
FAULTY = """\
units inch
part F9 {
  section  flat width 2-1/2 thickness 3/8   length 6   grade A36
  face { holes bolt 3/4  gauge 1-1/4  at 3, 3-1/2 }
}
"""


def delivery(folder: Path) -> Path:
    """Write a delivery of three marks: two out of a library, one of a detailer's NC file."""
    folder.mkdir(parents=True)
    (folder / "library.bmk").write_text(LIBRARY, encoding="utf-8")
    (folder / "strips.bmk").write_text(PARTS, encoding="utf-8")
    (folder / "backmark.toml").write_text(SETTINGS, encoding="utf-8")
    (folder / "detailer").mkdir()
    data = (SAMPLES / "tern-quay" / "detailer" / "F55.nc1").read_bytes()
    (folder / "detailer" / "F55.nc1").write_bytes(data)
    return folder


def run(*arguments: object) -> Result:
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def release(source: object, out: object, *more: object) -> Result:
    return run("release", source, "--to", out, "--by", "Q. Clerk", "--at", NOON, *more)


def released(folder: Path, *more: object) -> Path:
    """Make a delivery and a release of it."""
    out = folder / "r1"
    result = release(delivery(folder / "in"), out, *more)
    assert result.exit_code == 0, result.output
    return out


def manifest(out: Path) -> dict:
    return json.loads((out / "release.json").read_text(encoding="utf-8"))["release"]


def files(out: Path) -> dict[str, bytes]:
    return {
        path.relative_to(out).as_posix(): path.read_bytes()
        for path in sorted(out.rglob("*"))
        if path.is_file()
    }


def rewrite(out: Path, change) -> None:
    """Change a manifest and make the list of digests fit, as a careful forger would."""
    path = out / "release.json"
    document = json.loads(path.read_text(encoding="utf-8"))
    change(document["release"])
    path.write_text(json.dumps(document), encoding="utf-8")
    seal(out)


def seal(out: Path) -> None:
    """Write the list of digests again, of what the manifest names and of itself."""
    release = manifest(out)
    named = {f["path"]: f["sha256"] for f in (*release["inputs"], *release["outputs"])}
    named["release.json"] = hashlib.sha256((out / "release.json").read_bytes()).hexdigest()
    text = "".join(f"{named[name]}  {name}\n" for name in sorted(named))
    (out / "SHA256SUMS").write_text(text, encoding="utf-8")
