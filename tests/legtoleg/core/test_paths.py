"""The rooms: where they are, what lessons there are, and the top level that is promised."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from dryerbench.core.tables import datasets_folder
from legtoleg.authoring import building
from legtoleg.core import paths
from legtoleg.core.paths import ROOT, FolderMissingError, course_folder, lesson_names, private_folders

REGISTRIES = "|".join(
    rf"\b{name}\.{end}\b"
    for name, end in (
        ("(quay|docker|ghcr|gcr|azurecr)", "io"), ("registry.k8s", "io"), ("(pypi|npmjs|conda-forge)", "org"),
        ("(rubygems|maven)", "org"), ("(npmjs|anaconda)", "com"), ("pythonhosted", "org"), ("crates", "io"),
        ("pkg", "dev"), ("golang", "org"), ("amazonaws", "com"),
    )
)  # fmt: skip
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "lessons", "solutions", "grader", "tests", "datasets"}


def test_a_missing_room_is_one_clear_line() -> None:
    with pytest.raises(
        FolderMissingError, match=r"folder cellar/ is missing: .* “git checkout -- cellar” brings it back"
    ):
        course_folder("cellar")


@pytest.fixture
def installed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the marker stand where a wheel puts it, beside a folder that looks like a checkout's."""
    package = tmp_path / "site-packages" / "legtoleg"
    for folder in (package / "course" / "lessons", tmp_path / "lessons", tmp_path / "solutions"):
        folder.mkdir(parents=True)
    monkeypatch.setattr(paths, "PACKAGE", package)
    monkeypatch.setattr(paths, "ROOT", tmp_path)
    monkeypatch.setattr(paths, "INSTALLED", package / "course")
    return package


def test_an_installed_course_reads_its_own_folders_only(installed: Path) -> None:
    assert course_folder("lessons") == installed / "course" / "lessons"
    assert course_folder("datasets") == datasets_folder()
    with pytest.raises(FolderMissingError, match=r"solutions/ is missing: .*course/solutions is not there. Install"):
        course_folder("solutions")


def test_what_needs_a_checkout_says_so_in_one_line(installed: Path) -> None:
    for command in (building.build, building.stale):
        with pytest.raises(FolderMissingError, match="“legtoleg build” needs a checkout of the course") as told:
            command()
        assert "\n" not in str(told.value)


def test_the_marker_and_what_a_checkout_keeps_for_it_are_private(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    own = {folder for folder in private_folders() if folder.is_relative_to(ROOT)}
    assert {ROOT / "grader" / "legtoleg", ROOT / "solutions", ROOT / "tests"} <= own
    (tmp_path / "legtoleg").mkdir()
    monkeypatch.syspath_prepend(tmp_path)
    assert tmp_path.resolve() / "legtoleg" in private_folders()


def test_an_installed_markers_package_is_private_and_holds_all_that_is(installed: Path) -> None:
    assert installed in private_folders()
    assert not any(folder.is_relative_to(installed.parent.parent / "solutions") for folder in private_folders())


def test_lessons_are_in_order() -> None:
    assert "03_heater_power" in lesson_names()
    assert lesson_names() == sorted(lesson_names())


def tracked() -> list[str]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode != 0:
        pytest.skip("not a git checkout")
    return listed.stdout.split("\0")[:-1]


def test_no_file_names_a_host_that_packages_or_images_come_from() -> None:
    assert re.search(REGISTRIES, "docker." + "io/library/postgres:17"), "the pattern finds none"
    texts = [ROOT / name for name in tracked() if not name.endswith(".png") and (ROOT / name).is_file()]
    named = [path for path in texts if re.search(REGISTRIES, path.read_text(encoding="utf-8", errors="replace"))]
    assert len(texts) > 500
    assert named == []


def test_the_top_level_is_what_is_promised() -> None:
    top = {line.split("/")[0] for line in tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP
