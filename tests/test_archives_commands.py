"""Archives and excludes on the command line: what an archive gives is what its folder gives."""

import json
import zipfile
from pathlib import Path

import pytest
from click.testing import CliRunner

from translator.commands import main

SAMPLES = Path(__file__).parent.parent / "samples" / "tern-quay"


@pytest.fixture
def here(tmp_path, monkeypatch):
    """Lay the samples down twice: as the folder d and as the archive d.zip."""
    monkeypatch.chdir(tmp_path)
    with zipfile.ZipFile("d.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted(SAMPLES.rglob("*.*")):
            name = path.relative_to(SAMPLES).as_posix()
            if path.suffix == ".toml":
                Path(path.name).write_bytes(path.read_bytes())
                continue
            archive.write(path, name)
            Path("d", name).parent.mkdir(parents=True, exist_ok=True)
            Path("d", name).write_bytes(path.read_bytes())
    return tmp_path


def run(*arguments):
    done = CliRunner().invoke(main, arguments)
    return done.exit_code, done.stdout, done.stderr


def findings(*arguments):
    _, out, _ = run("check", *arguments, "--format", "json", "--no-cache")
    return json.loads(out)["findings"]


@pytest.mark.usefixtures("here")
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_an_archive_is_checked_like_the_folder_it_was_made_of(jobs):
    folder, archive = (findings(path, "--jobs", jobs) for path in ("d", "d.zip"))
    assert json.loads(json.dumps(archive).replace("d.zip!/", "d/")) == folder
    assert any("d.zip!/stair/S62.part.json" in json.dumps(one) for one in archive)


@pytest.mark.usefixtures("here")
def test_an_archive_is_translated_like_the_folder_it_was_made_of():
    for path, out in (("d", "one"), ("d.zip", "two")):
        code, *_ = run("translate", path, "--out", out)
        assert code == 0
    one, two = (
        {p.name: p.read_bytes() for p in Path(out).iterdir() if p.suffix in (".dxf", ".json")}
        for out in ("one", "two")
    )
    parts = [name for name in one if name.endswith((".part.json", ".dxf"))]
    assert len(parts) > 40
    assert set(one) == set(two)
    assert all(one[name] == two[name] for name in parts)
    assert not any("!" in path.name for path in Path("two").iterdir())


@pytest.mark.usefixtures("here")
def test_a_damaged_file_in_an_archive_stops_no_other():
    data = bytearray(Path("d.zip").read_bytes())
    with zipfile.ZipFile("d.zip") as archive:
        data[archive.getinfo("clips.bmk").header_offset + 60] ^= 0xFF
    Path("d.zip").write_bytes(data)
    code, out, _ = run("check", "d.zip", "--format", "json", "--no-cache", "--jobs", "1")
    assert code == 1
    told = [one for one in json.loads(out)["findings"] if one["rule"] == "file-unreadable"]
    assert [one["path"] for one in told] == ["d.zip!/clips.bmk"]
    assert len({one["path"] for one in json.loads(out)["findings"]}) > 5


@pytest.mark.usefixtures("here")
def test_what_is_excluded_on_the_command_line_is_told():
    paths = {one["path"] for one in findings("d.zip", "--exclude", "stair", "--exclude", "*.nc1")}
    assert not any("stair/" in path or path.endswith(".nc1") for path in paths)
    code, out, _ = run("check", "d.zip", "--exclude", "stair", "--exclude", "*.nc1", "--no-cache")
    assert code == 0
    assert "d.zip: note: 3 files are left out by `--exclude stair`" in out.replace(":1:1:", ":")
    code, _, err = run("check", "d", "--exclude", "*", "--no-cache")
    assert code == 2
    assert "there is no file to read" in err


@pytest.mark.usefixtures("here")
def test_excludes_of_the_settings_reach_into_an_archive():
    settings = Path("backmark.toml").read_text(encoding="utf-8")
    Path("backmark.toml").write_text('excludes = ["d.zip!/stair", "*.nc1"]\n' + settings)
    paths = {one["path"] for one in findings("d.zip")}
    assert "d.zip!/clips.bmk" in paths
    assert not any("stair/" in path or path.endswith(".nc1") for path in paths)
    Path("backmark.toml").write_text('excludes = ["d.zip"]\n' + settings)
    told = findings(".")
    assert not any("d.zip!/" in one["path"] for one in told)
    assert "d.zip is left out by `excludes` of the settings" in [one["message"] for one in told]


@pytest.mark.usefixtures("here")
def test_a_pattern_is_a_path_on_the_command_line():
    _, out, _ = run("list", "d/**/*.part.json", "--format", "csv")
    rows = [set(line.split(",")) for line in out.splitlines()[1:]]
    assert len(rows) == 3
    assert {"S61", "S62", "S63"} <= set.union(*rows)
