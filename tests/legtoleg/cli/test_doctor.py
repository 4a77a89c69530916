"""The doctor: well on this machine, and each illness found with its cure."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from legtoleg.cli import doctor


def test_this_machine_can_run_the_course(tmp_path: Path) -> None:
    findings = list(doctor.examine(tmp_path / "new" / "cohort"))
    assert len(findings) == 10
    assert all(finding.well for finding in findings if finding.must), [f for f in findings if not f.well]
    assert not (tmp_path / "new").exists()


def test_a_kernel_of_another_python(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    spec = tmp_path / "kernels" / "python3"
    spec.mkdir(parents=True)
    text = json.dumps({"argv": ["/elsewhere/bin/python", "-m", "ipykernel"], "display_name": "x", "language": "python"})
    (spec / "kernel.json").write_text(text, encoding="utf-8")
    monkeypatch.setenv("JUPYTER_PATH", str(tmp_path))
    finding = doctor._kernel()
    assert not finding.well
    assert "/elsewhere" in finding.found
    assert "ipykernel install" in finding.cure


def test_missing_alembic_widgets_and_jail(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor.sys, "executable", str(tmp_path / "python"))
    monkeypatch.setenv("PATH", str(tmp_path))
    assert not doctor._alembic().well
    monkeypatch.setattr("jupyter_core.paths.jupyter_path", lambda *_: [str(tmp_path)])
    assert "jupyter-matplotlib" in doctor._widgets().found
    monkeypatch.setattr(doctor.jail, "available", lambda: False)
    found = doctor._jail()
    assert (found.well, found.must) == (False, False)
    assert "bubblewrap" in found.cure


def test_a_long_path_on_windows(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(doctor.os, "name", "nt")
    long = Path.__new__(type(tmp_path), tmp_path / ("x" * 130))
    assert not doctor._length(long).well
    monkeypatch.undo()
    assert doctor._length(tmp_path / ("x" * 130)).well
