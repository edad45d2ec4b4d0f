"""What the search for files passes over, archives and bills: kept, told, and made again."""

import shutil
import zipfile

import pytest
from release_set import delivery, files, manifest, release, run

BILL = """\
mark,quantity,section,length,grade,revision
P1,4,FB2-1/2x3/8,9,A36,A
P2,2,FB2-1/2x3/8,12,A36,A
F55,20,FB100x10,220mm,S275JR,
"""


def kept(out):
    return {file["name"]: file["role"] for file in manifest(out)["inputs"]}


def test_files_left_out_are_told_wherever_the_set_stands(tmp_path, monkeypatch):
    source = delivery(tmp_path / "in")
    settings = (source / "backmark.toml").read_text(encoding="utf-8")
    text = f'excludes = ["old"]\n{settings}'
    (source / "backmark.toml").write_text(text, encoding="utf-8")
    (source / "old").mkdir()
    shutil.copy(source / "strips.bmk", source / "old" / "strips.bmk")
    done = release(source, tmp_path / "r1", "--exclude", "detailer", "--formats", "json")
    assert done.exit_code == 0, done.output
    assert kept(tmp_path / "r1") == {
        "backmark.toml": "settings",
        "library.bmk": "part file",
        "strips.bmk": "part file",
    }
    said = {(r["rule"], r["path"]): r["message"] for r in manifest(tmp_path / "r1")["remarks"]}
    assert said == {
        ("files-excluded", "."): "detailer/F55.nc1 is left out by `--exclude detailer`",
        ("files-excluded", "backmark.toml"): "old/strips.bmk is left out by `excludes` of the"
        " settings",
    }
    text = (tmp_path / "r1" / "findings.txt").read_text(encoding="utf-8")
    assert "backmark.toml:1:1: note: old/strips.bmk is left out" in text
    assert manifest(tmp_path / "r1")["judged"]["notes"] == 2
    assert run("verify", tmp_path / "r1", "--rederive").exit_code == 0
    shutil.copytree(source, tmp_path / "moved" / "in")
    monkeypatch.chdir(tmp_path / "moved" / "in")
    done = release(".", tmp_path / "moved" / "r1", "--exclude", "detailer", "--formats", "json")
    assert done.exit_code == 0, done.output
    assert files(tmp_path / "moved" / "r1") == files(tmp_path / "r1")


@pytest.mark.parametrize("named", ["archive", "folder"])
def test_an_archive_is_kept_file_by_file(tmp_path, named):
    source = delivery(tmp_path / "loose")
    (tmp_path / "in").mkdir()
    archive = tmp_path / "in" / "sent.zip"
    with zipfile.ZipFile(archive, "w") as packed:
        for name in ("library.bmk", "strips.bmk", "detailer/F55.nc1"):
            packed.write(source / name, name)
    shutil.copy(source / "backmark.toml", tmp_path / "in")
    out = tmp_path / "r1"
    done = release(archive if named == "archive" else tmp_path / "in", out, "--formats", "json")
    assert done.exit_code == 0, done.output
    assert set(kept(out)) == {
        "backmark.toml",
        "sent.zip!/library.bmk",
        "sent.zip!/strips.bmk",
        "sent.zip!/detailer/F55.nc1",
    }
    assert "inputs/sent.zip~21/detailer/F55.nc1.kept" in files(out)
    assert run("verify", out, "--rederive").exit_code == 0
    away = str(tmp_path).encode()
    assert [name for name, data in files(out).items() if away in data] == []


def test_a_bill_is_kept_and_held_to(tmp_path):
    source = delivery(tmp_path / "in")
    (tmp_path / "bill.csv").write_text(BILL, encoding="utf-8")
    out = tmp_path / "r1"
    done = release(source, out, "--bill", tmp_path / "bill.csv", "--formats", "json")
    assert done.exit_code == 0, done.output
    assert kept(out)["beside/bill.csv"] == "bill"
    assert "bill-quantity-differs" in manifest(out)["judged"]["rules"]
    assert run("verify", out, "--rederive").exit_code == 0
    (tmp_path / "bill.csv").write_text(BILL.replace("P1,4", "P1,5"), encoding="utf-8")
    done = release(source, tmp_path / "r2", "--bill", tmp_path / "bill.csv")
    assert done.exit_code == 1
    assert "  P1: bill-quantity-differs\n" in done.output
    assert not (tmp_path / "r2").exists()


def test_a_bill_comes_under_the_settings_of_its_own_folder(tmp_path):
    source = delivery(tmp_path / "in")
    (tmp_path / "office").mkdir()
    bill = BILL.replace("mark,", "Pc No,")
    (tmp_path / "office" / "bill.csv").write_text(bill, encoding="utf-8")
    columns = '[bill]\ncolumns = { mark = "Pc No" }\n'
    (tmp_path / "office" / "backmark.toml").write_text(columns, encoding="utf-8")
    out = tmp_path / "r1"
    done = release(source, out, "--bill", tmp_path / "office" / "bill.csv", "--formats", "json")
    assert done.exit_code == 0, done.output
    assert kept(out)["beside/backmark.toml"] == "settings"
    assert run("verify", out, "--rederive").exit_code == 0
