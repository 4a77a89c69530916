"""Supervised tests as an instructor opens, closes, marks and records them: by command and from the board's desk."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import nbformat
import pytest
from typer.testing import CliRunner

from dryerbench.notebook import supervised
from dryerbench.notebook.answer_record import FORM, MIME
from dryerbench.notebook.sealed_bench import SealedBenchError, SealedLink
from legtoleg.classroom import sealed_service
from legtoleg.classroom.class_folder import ClassFolder
from legtoleg.classroom.desk_work import work
from legtoleg.classroom.sealed_book import SealedBook
from legtoleg.classroom.sealed_dealing import Dealer
from legtoleg.classroom.sealed_page import supervised_page
from legtoleg.classroom.sealed_refresher import open_refresher, record_refresher
from legtoleg.classroom.sealed_room import SealedRoom
from legtoleg.cli.command import app
from legtoleg.cohort.cohort_folder import Cohort
from legtoleg.refresher.record.shop import Settings, Shop
from legtoleg.report.report_run import numbers_of, write_report
from legtoleg.sandbox.engine import Engine
from legtoleg.sandbox.serial_engine import SerialEngine

PEOPLE = "id,name\nada-01,Ada Demo\nbo-02,Bo Demo\n"


def said(*words: object) -> tuple[int, str]:
    got = CliRunner().invoke(app, ["supervised", *map(str, words)])
    return got.exit_code, got.output + (str(got.exception) if got.exception else "")


@pytest.fixture
def cohort(tmp_path: Path) -> Path:
    (tmp_path / "people.csv").write_text(PEOPLE)
    cohort = Cohort.make(tmp_path / "cohort", ["10_call_to_close"])
    shutil.copy(tmp_path / "people.csv", cohort.folder / "roster.csv")
    return cohort.folder


def work_on(cohort: Path, test: str) -> None:
    """Let ada-01 do one act of ``test``."""
    folder = ClassFolder(Cohort.at(cohort))
    room = SealedRoom(SealedBook.of(folder), Dealer.of(folder))
    assert room.act("ada-01", test, "call-1", b'{"n": 0, "act": "unplug", "with": {}}').status == 200


def test_a_test_is_opened_listed_closed_and_marked(cohort: Path) -> None:
    code, words = said("calls", cohort, "--to", "ada-01,bo-02", "--minutes", "90")
    assert code == 0
    assert "is open for 2 until" in words
    test = words.split()[0]
    work_on(cohort, test)
    code, words = said("list", cohort)
    assert "ada-01         open; acts: call-1 1, call-2 0, call-3 0" in words
    code, words = said("mark", cohort, test)
    assert code != 0
    assert "still open for ada-01, bo-02" in words
    assert said("close", cohort, test, "--to", "bo-02")[0] == 0
    assert "bo-02          ended" in said("list", cohort)[1]
    assert said("close", cohort, test)[0] == 0
    code, words = said("mark", cohort, test)
    assert code == 0
    assert "bo-02          took no part" in words
    assert "ada-01         not passed, 0 of 26 points; call 1, call 2, call 3 not closed; safety not clear: " in words


def test_what_a_test_came_to_stands_in_the_report_as_the_shop_decides(cohort: Path) -> None:
    test = said("calls", cohort, "--to", "ada-01")[1].split()[0]
    work_on(cohort, test)
    assert said("close", cohort, test)[0] == 0
    assert said("mark", cohort, test)[0] == 0
    part = lambda: numbers_of(Cohort.at(cohort)).parts("ada-01").calls
    assert part().words == "call 1, call 2, call 3 not closed"
    assert said("count", cohort, "alone") == (
        0,
        "Only a passed supervised test closes the calls; the last one counts.\n",
    )
    assert part().words.startswith("in the supervised test of ")
    kept = cohort / "class" / "supervised" / f"{test}.json"
    told = json.loads(kept.read_text())
    for one in told["takers"]["ada-01"]:
        one |= {"points": one["max_points"], "safety": "clear" if one["safety"] else ""}
    kept.write_text(json.dumps(told))
    assert part().whole
    page = write_report(Cohort.at(cohort)).page.read_text()
    assert "3 calls closed in the supervised test of" in page
    assert "Only a passed supervised test closes the calls" in page
    assert said("count", cohort, "not")[0] == 0
    assert not part().whole
    code, words = said("count", cohort, "perhaps")
    assert (code, "is no such rule: say too, alone or not" in words) == (1, True)
    assert said("count", cohort)[1] == "Supervised tests do not count here.\n"


def test_what_cannot_be_gets_one_line(cohort: Path) -> None:
    for given, line in (
        (("calls", cohort, "--to", "nobody-9"), "Nobody with the id 'nobody-9' is in roster.csv"),
        (("close", cohort, "calls-00000000"), "There is no supervised test 'calls-00000000'"),
        (("mark", cohort, "x"), "There is no supervised test"),
        (("list", cohort / "no"), "is not a cohort's folder"),
        (("refresher", cohort, "--shop", cohort), "is not a shop's folder"),
    ):
        code, words = said(*given)
        assert code != 0
        assert line in " ".join(words.split())
    assert "No supervised test was opened" in said("list", cohort)[1]


def test_the_boards_desk_opens_and_closes(cohort: Path) -> None:
    folder = ClassFolder(Cohort.at(cohort))
    folder.prepare()
    assert "is open for ada-01, for 120 minutes" in work(folder, "test-open", "ada-01")
    assert "0 of 0 passed, 1 took no part. Write the report" in work(folder, "test-close")
    assert work(folder, "test-close") == "No test was open."
    assert "is open for 2, for 120 minutes" in work(folder, "test-open")


def test_the_page_of_a_test_runs_nothing_but_the_test() -> None:
    page = nbformat.reads(supervised_page().decode(), as_version=4)
    assert [cell.source for cell in page.cells if cell.cell_type == "code"] == [
        "from dryerbench import *\n\nsupervised_test()"
    ]


# --- a refresher --------------------------------------------------------------------------------------------------


@pytest.fixture
def engine() -> Iterator[Engine]:
    one = SerialEngine()
    yield one
    one.close()


@pytest.fixture
def here(tmp_path: Path, load: Callable[[str], ModuleType], monkeypatch: pytest.MonkeyPatch) -> Iterator[Any]:
    module = load("sealed_class")
    monkeypatch.setattr(sealed_service, "is_of_seat", lambda *_: True)
    one = module.SealedClass(module.make_folder(tmp_path / "class", tmp_path / "s")).start()
    monkeypatch.setenv("LEGTOLEG_CLASS", str(one.path().with_name("class")))
    monkeypatch.setenv("JPY_SESSION_NAME", str(tmp_path / "supervised_test.ipynb"))
    yield one
    one.stop()


def safe_work(bench: Any) -> None:
    for act in ("unplug", "prove_meter", "test_dead", "prove_meter"):
        bench.do(act)


def test_a_refresher_goes_through_the_door_into_the_ledger(here: Any, tmp_path: Path, engine: Engine) -> None:
    (tmp_path / "people.csv").write_text(PEOPLE)
    shop = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), tmp_path / "people.csv")
    folder = here.folder
    here.clock.now, here.clock.run = SealedBook.of(folder).now(), 60.0
    test = open_refresher(folder, shop, ["ada-01"], 600).test
    (mine,) = SealedLink.here().tests()
    assert mine["kind"] == "refresher"
    page = supervised.fetch_page(test)
    assert page.name == "refresher-ada-01.ipynb"
    told = here.book().takers(test)["ada-01"]
    notebook = nbformat.read(page, as_version=4)
    jobs = [job for job, _, _ in mine["jobs"]]
    assert jobs
    for job in jobs:
        assert f'bench = supervised_bench("{test}", "{job}")' in str(notebook)
        safe_work(supervised.supervised_bench(test, job))
    got = here.ask("POST", f"/tests/{test}/page", page.read_bytes())
    assert got.status == 200
    assert here.ask("POST", f"/tests/{test}/page", page.read_bytes()).text == got.text
    assert here.ask("POST", f"/tests/{test}/page", b"another").status == 409
    with pytest.raises(SealedBenchError, match="has ended"):
        supervised.supervised_bench(test, jobs[0])
    (done,) = record_refresher(folder, test, engine)
    assert done.recorded is not None, done.trouble
    marked = {item.name: outcome for item, outcome in done.recorded.marked.outcomes}
    assert all(marked[job].note != "no_record" for job in jobs)
    assert done.recorded.entry.data["issue"] == told["issue"]
    assert done.recorded.entry.who == "ada-01"
    (again,) = record_refresher(folder, test, engine)
    assert again.recorded is None
    assert "was recorded before" in again.trouble


def test_a_refresher_page_that_says_otherwise_is_not_believed(here: Any, tmp_path: Path, engine: Engine) -> None:
    """A page whose own cells claim work on the bench earns what the class wrote: nothing."""
    (tmp_path / "people.csv").write_text(PEOPLE)
    shop = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), tmp_path / "people.csv")
    here.clock.now = SealedBook.of(here.folder).now()
    test = open_refresher(here.folder, shop, ["ada-01"], 600).test
    page = supervised.fetch_page(test)
    job = SealedLink.here().tests()[0]["jobs"][0][0]
    notebook = nbformat.read(page, as_version=4)
    told = here.book().takers(test)["ada-01"]
    record = {
        "form": FORM, "question": job, "apprentice": told["issue"], "kind": "work", "typed": "",
        "acts": [{"act": "unplug", "with": {}}], "trail": 2,
    }  # fmt: skip
    for cell in notebook.cells:
        if cell.id == f"{job}-hand-in":
            data = {MIME: record}
            cell.outputs = [nbformat.v4.new_output("display_data", data=data)]
    assert here.ask("POST", f"/tests/{test}/page", nbformat.writes(notebook).encode()).status == 200
    (done,) = record_refresher(here.folder, test, engine)
    assert done.recorded is not None, done.trouble
    assert {item.name: one.note for item, one in done.recorded.marked.outcomes}[job] == "no_record"


def test_who_hands_nothing_in_is_named(here: Any, tmp_path: Path, engine: Engine) -> None:
    (tmp_path / "people.csv").write_text(PEOPLE)
    shop = Shop.make(tmp_path / "shop", Settings("Demo shop", "America/Denver"), tmp_path / "people.csv")
    test = open_refresher(here.folder, shop, ["bo-02"], 600)
    here.book().end(test.test)
    (done,) = record_refresher(here.folder, test.test, engine)
    assert "no page in" in done.trouble


def test_the_command_starts_without_what_only_a_class_needs() -> None:
    code = "import sys; import legtoleg.cli.command; print(sorted({'tornado', 'jupyterhub'} & set(sys.modules)))"
    got = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert json.loads(got.stdout.replace("'", '"')) == []
