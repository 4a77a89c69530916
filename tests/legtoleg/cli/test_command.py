"""The commands as an instructor types them: from roster to report, and one clear line for what is wrong."""

from __future__ import annotations

import json
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow
LESSON = "03_heater_power"
CALL = "import sys; from legtoleg.cli.command import main; sys.argv[0] = 'legtoleg'; main()"


def legtoleg(*words: object) -> tuple[int, str]:
    done = subprocess.run(
        [sys.executable, "-c", CALL, *map(str, words)], check=False, capture_output=True, text=True, timeout=300
    )
    return done.returncode, done.stdout + done.stderr


def test_a_day_from_roster_to_report(tmp_path: Path) -> None:
    roster, folder = tmp_path / "roster.csv", tmp_path / "spring"
    roster.write_text("id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n", encoding="utf-8")
    code, said = legtoleg("cohort", folder, "--roster", roster, "--due", "2026-01-31")
    assert code == 0, said
    assert "2 apprentices, 2 of them new" in said
    back = tmp_path / "came back.zip"
    with (
        zipfile.ZipFile(folder / "kits" / "leg-to-leg-ada-01-Ada-Demo.zip") as kit,
        zipfile.ZipFile(back, "w") as parcel,
    ):
        notebook = json.loads(kit.read(f"leg-to-leg-ada-01-Ada-Demo/lessons/{LESSON}/{LESSON}.ipynb"))
        cell = next(cell for cell in notebook["cells"] if cell["id"] == "drift-answer")
        cell["source"] = 'drift = "12 %"'
        parcel.writestr("my homework.ipynb", json.dumps(notebook))
        parcel.writestr("broken.ipynb", "{")
    code, said = legtoleg("collect", folder, back)
    assert code == 1, said
    assert "my homework.ipynb is ada-01, 03_heater_power" in said
    assert "1 to grade; 1 needs you" in said
    settle = folder / "settle.csv"
    settle.write_text(settle.read_text(encoding="utf-8-sig").rstrip() + "nobody\n", encoding="utf-8")
    code, said = legtoleg("collect", folder)
    assert code == 0, said
    assert "0 to grade; nothing needs you" in said
    code, said = legtoleg("collect", folder, tmp_path / "gone.zip")
    assert code == 1, said
    assert "gone.zip was not opened: there is no such file or folder; check the path, and collect it again." in said
    assert "0 to grade; 1 path was not there, so nothing came from it.\n" in said
    code, said = legtoleg("mark", folder)
    assert code == 0, said
    assert "1 graded, 0 had not changed." in said
    code, said = legtoleg("mark", folder)
    assert "0 graded, 1 had not changed." in said
    code, said = legtoleg("report", folder)
    assert code == 0, said
    page = (folder / "report.html").read_text(encoding="utf-8")
    assert "Bo Demo" in page
    assert "days late" in page


@pytest.mark.parametrize(
    ("words", "line"),
    [
        (("cohort", "{t}/c", "--roster", "{t}/none.csv"), "cannot be opened"),
        (("collect", "{t}", "{t}/x.zip"), "is not a cohort's folder"),
        (("mark", "{t}"), "is not a cohort's folder"),
        (("report", "{t}"), "is not a cohort's folder"),
        (("kit", "../x"), "cannot be an apprentice's id"),
    ],
)
def test_what_is_wrong_is_one_line(tmp_path: Path, words: tuple[str, ...], line: str) -> None:
    code, said = legtoleg(*(word.format(t=tmp_path) for word in words))
    assert code == 2
    assert line in said
    assert "Traceback" not in said
    assert len(said.strip().splitlines()) == 1


def test_help_and_marking_load_no_tables() -> None:
    """Pandas takes half a second to load: it comes with the report, not with a command's help, nor with marking."""
    loads = "import sys, legtoleg.cli.command, legtoleg.cohort.marking_run, legtoleg.collecting.collecting"
    code = "\n".join([loads, said := "print('pandas' in sys.modules)", "import legtoleg.report.report_page", said])
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=True)
    assert done.stdout.split() == ["False", "True"]
