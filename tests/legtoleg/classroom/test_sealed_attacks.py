"""Attacks on a supervised test, from a seat: each gets one clear line and learns nothing."""

from __future__ import annotations

import json
import os
import random
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from dryerbench.bench.acts import ACTS, DETAILS
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import fault_names, fits, from_family, read_fault
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.schoolroom import family_machine
from dryerbench.core.random_stream import Stream
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import drawn_machine
from dryerbench.family.shelf import arrangement
from legtoleg.classroom import sealed_service
from legtoleg.classroom.sealed_dealing import CALL_JOBS, Dealer, SealedJob, SealedMeter

OUTSIDE: tuple[tuple[str, dict[str, object]], ...] = (
    ("look", {"place": "outside"}),
    ("ask_heat", {"heat": "high"}),
    ("press_start", {}),
    ("let_run", {}),
    ("temperature", {"spot": "exhaust"}),
    ("clamp", {"conductor": "cord"}),
    ("clamp", {"conductor": "cord 1"}),
    ("stop", {}),
    ("unplug", {}),
    ("prove_meter", {}),
    ("test_dead", {}),
    ("set_dial", {"mode": "low-impedance"}),
    ("probe", {"a": "outlet-1", "b": "outlet-2"}),
    ("null_leads", {}),
    ("set_dial", {"mode": "ohms"}),
    ("probe", {"a": "plug-1", "b": "plug-2"}),
    ("probe", {"a": "plug-1", "b": "plug-G"}),
    ("look_vent", {}),
    ("cover_off", {}),
    ("test_dead", {"where": "block"}),
    ("probe", {"a": "T0", "b": "case"}),
    ("look", {"place": "heat switches"}),
    ("look", {"place": "terminal block"}),
    ("look", {"place": "heater box"}),
    ("probe", {"a": "no such point", "b": "case"}),
)
"""What a technician may do before any part is read alone."""
ALIKE = (
    ("element-1-open", "element-2-open"),
    ("element-2-open", "element-3-open"),
    ("high-limit-open", "cut-off-blown"),
    ("high-limit-open", "cycling-open"),
)
"""Faults that look the same as long as no part is read alone."""


PRESSED: tuple[tuple[str, dict[str, object]], ...] = (
    ("go", {"at": "rear"}),
    ("press", {"at": "cover-1"}),
    ("ask_heat", {"heat": "high"}),
    ("press_start", {}),
    ("let_run", {}),
    ("temperature", {"spot": "exhaust", "unit": "°F"}),
    ("clamp", {"conductor": "cord"}),
    ("stop", {}),
    ("press", {"at": "plug"}),
    ("prove_meter", {}),
    ("test_dead", {"where": "plug"}),
    ("go", {"at": "wall"}),
    ("dial", {"at": "LoZ"}),
    ("place", {"probe": "A", "spot": "wall-1"}),
    ("place", {"probe": "B", "spot": "wall-2", "alone": True}),
    ("key", {"name": "hold"}),
    ("dial", {"at": "beep"}),
    ("cover_off", {}),
    ("test_dead", {"where": "block"}),
    ("go", {"at": "block"}),
    ("go", {"at": "box-1"}),
    ("wire", {"wire": "nothing of that name"}),
    ("tag_wire", {"wire": "box-1-1/1", "text": "mine"}),
    ("look_vent", {}),
    ("start_again", {}),
    ("see", {}),
    ("go", {"at": "front"}),
)
"""The same by presses on the drawn machine."""


class Fixed(Dealer):
    """Deals one machine, known to the test, with the fault that stands in ``faults``."""

    faults: list[str] = []  # noqa: RUF012
    machine = Machine(name="sealed-0123", element_ohms=(27.0, 27.0, 27.0))

    def name(self, test: str, who: str, lesson: str) -> str:
        return "sealed-0123"

    def bench(self, test: str, who: str, job: SealedJob) -> Bench:
        bench = Bench(type(self).machine, self.faults)
        bench.meter = SealedMeter()
        return bench


@pytest.fixture
def module(load: Callable[[str], ModuleType], monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    monkeypatch.setattr(sealed_service, "is_of_seat", lambda *_: True)
    return load("sealed_class")


@pytest.fixture
def here(tmp_path: Path, module: ModuleType) -> Iterator[Any]:
    one = module.SealedClass(module.make_folder(tmp_path / "cohort", tmp_path / "s")).start()
    yield one
    one.stop()


LOOK = (
    b'{"at": "front", "tips": {"A": null, "B": null}, "dial": "", "held": null, '
    b'"jaw": "", "bead": "", "airflow": false}'
)


@dataclass
class Page:
    """A page of a seat: it keeps where it looks, and sends each press."""

    here: Any
    test: str
    job: str = "call-1"
    n: int = 0
    look: Any = field(default_factory=lambda: json.loads(LOOK))
    shown: Any = None

    def press(self, act: str, given: dict[str, object]) -> Any:
        asked = {"n": self.n, "act": act, "with": given, "look": self.look}
        got = self.here.ask("POST", f"/tests/{self.test}/{self.job}/press", asked)
        if "look" in got.said:
            self.n, self.look, self.shown = got.said["n"], got.said["look"], got.said
        return got


@pytest.fixture
def answers(tmp_path: Path, module: ModuleType) -> Iterator[Callable[..., list[tuple[int, bytes]]]]:
    """Give what a seat gets for a list of acts on a machine with a given fault; names of tests taken out."""
    folder = module.make_folder(tmp_path / "cohort", tmp_path / "s")
    one = module.SealedClass(folder, dealer=Fixed("00" * 32)).start()

    def ask(fault: str, acts: Any, *, pressed: bool = False) -> list[tuple[int, bytes]]:
        Fixed.faults[:] = fault.split()
        test = one.open("ada-01")
        got = [one.ask("GET", f"/tests/{test}/call-1")]
        page = Page(one, test)
        for act, given in acts:
            got.append(page.press(act, given) if pressed else one.act(test, page.n, act, **given))
            if not pressed:
                page.n += got[-1].status == 200
        got.append(one.ask("GET", f"/tests/{test}/call-1"))
        got.append(one.ask("POST", f"/tests/{test}/call-1/fault", {"fault": "sound"}))
        one.book().end(test)
        return [(one.status, one.text.replace(test.encode(), b"TEST")) for one in got]

    yield ask
    one.stop()


@pytest.mark.parametrize("pressed", [False, True], ids=["acts", "presses"])
@pytest.mark.parametrize("pair", ALIKE, ids=" ".join)
def test_two_faults_that_look_the_same_are_answered_to_the_byte_alike(
    pair: tuple[str, str], pressed: bool, answers: Any
) -> None:
    done = PRESSED if pressed else OUTSIDE
    one, other = (answers(fault, done, pressed=pressed) for fault in pair)
    assert [status for status, _ in one].count(200) > 20
    for (act, _), mine, others in zip((("opened", {}), *done, ("end", {}), ("name", {})), one, other, strict=True):
        assert mine == others, act


def test_the_same_faults_read_differently_once_a_part_is_read_alone(answers: Any) -> None:
    apart = (
        ("unplug", {}),
        ("cover_off", {}),
        ("pull_wire", {"wire": "wire T1"}),
        ("set_dial", {"mode": "ohms"}),
        ("probe", {"a": "T1", "b": "T0"}),
    )
    one, other = (answers(fault, apart)[-3][1] for fault in ALIKE[0])
    assert one != other


def test_what_can_be_chosen_and_what_is_refused_is_the_same_for_every_fault(answers: Any) -> None:
    strange = [(act, dict.fromkeys(DETAILS.get(act, ()), "nothing of that name")) for act in ACTS if act in DETAILS]
    strange += [("no such act", {}), ("unplug", {"hard": "yes"}), ("plug_in", {}), ("probe", {})]
    closed = [("probe", {"a": point, "b": "case"}) for point in ("L1", "T0", "H3", "plug-1", "M1")]
    sound = answers("", strange + closed)
    assert all(status != 200 for status, _ in sound[1:-2])
    there = [fault for fault in sorted(fault_names()) if fits(read_fault(fault), Machine())]
    assert len(there) > 30
    for fault in there:
        assert answers(fault, strange + closed) == sound, fault


def test_every_place_of_an_open_machine_is_drawn_the_same_for_every_fault(answers: Any) -> None:
    views = ("front", "rear", "wall", "block", "box-1", "wall-1", "motor", "blower", "console", "sheet")
    there = (("unplug", {}), ("cover_off", {}), *(("go", {"at": at}) for at in views), ("lift", {}))
    sound = answers("", there, pressed=True)
    assert [status for status, _ in sound].count(200) > 7
    for fault in sorted(fault_names())[::3]:
        if fits(read_fault(fault), Machine()):
            assert answers(fault, there, pressed=True) == sound, fault


def strings_in(value: Any) -> Iterator[str]:
    """Yield every string in an answer, keys too; of a drawing without the numbers of its lines."""
    if isinstance(value, str):
        yield re.sub(r"-?\d[\d.]*", "", value) if value.startswith("<svg") else value
    elif isinstance(value, dict):
        yield from value
        for one in value.values():
            yield from strings_in(one)
    elif isinstance(value, list):
        for one in value:
            yield from strings_in(one)


WALKED = ("cabin", "closet")


@pytest.mark.parametrize("name", WALKED)
def test_no_string_of_any_answer_names_fault_or_point_on_a_machine_not_seen_before(
    name: str, here: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = on_the_bench(drawn_machine(arrangement(name), Stream(name), f"sealed-{name}"))
    known = family_machine(made).arrangement
    names = {point for point in known.points if "." in point} | {wire.name for wire in known.wires}
    names |= {coil.name for coil in known.coils} | {made.name}
    named = re.compile(rf"(?<![\w.])(?:{'|'.join(map(re.escape, sorted(names)))})(?![\w.])")
    there = [fault for fault in faults_of(known) if "-" in fault.name]
    assert len(there) > 15
    here.room.dealer = Fixed("00" * 32)
    luck = random.Random(name)
    here.clock.run = 300.0
    for fault in luck.sample(there, 3):
        monkeypatch.setattr(Fixed, "machine", made)
        Fixed.faults[:] = [from_family(fault).name]
        test = here.open("ada-01", minutes=1e6)
        page = Page(here, test, "call-3")
        said = [here.ask("GET", f"/tests/{test}/call-3").said["menu"], here.ask("GET", "/tests").said]
        menu = said[0]
        said += [page.press(act, {}).said for act in ("see", "prove_meter", "unplug", "cover_off")]
        spots = [spot for _, rows in page.shown["view"]["reach"] for spot, _ in rows]
        tried = [("go", {"at": at}) for at, _ in page.shown["view"]["places"]]
        tried += [("dial", {"at": at}) for at in ("ohms", "beep", "ohms", "500 V")]
        tried += [("place", {"probe": luck.choice("AB"), "spot": luck.choice(spots), "alone": True}) for _ in range(15)]
        tried += [("wire", {"wire": f"{spot}/1"}) for spot in luck.sample(spots, 8)]
        tried += [("replace_part", {"part": part}) for part, _ in menu["parts"]]
        tried += [("replace_part", {"a": luck.choice(spots), "b": luck.choice(spots)}) for _ in range(3)]
        tried += [(one["act"], {f["name"]: luck.choice(f["choices"] or [["mine", ""]])[0] for f in one["fields"]})
                  for one in menu["more"] if one["act"] != "leave"]  # fmt: skip
        tried += [
            (act, {}) for act in ("plug_in", "press_start", "let_run", "unplug", "cover_on", "cover_off", "again")
        ]
        luck.shuffle(tried)
        tried += [(act, {}) for act in ("unplug", "lift", "cover_off")]
        said += [page.press(act, dict(given)).said for act, given in tried]
        by_code = [("probe", {"a": a, "b": b}) for a, b in pairwise(spots)]
        by_code += [("probe", {"a": one, "b": "case"}) for one in sorted(names)[:5]]
        said += [here.act(test, page.n + 1, "unplug", "call-3").said]
        for act, given in by_code:
            got = here.act(test, page.n, act, "call-3", **given)
            page.n += got.status == 200
            echoed = given["a"] if got.status != 200 else ""
            said.append({key: str(one).replace(f"'{echoed}'", "") for key, one in got.said.items()})
        assert sum(isinstance(one, dict) and one.get("record") is not None for one in said) > 20
        texts = {text for one in said for text in strings_in(one)}
        assert not [text[:200] for text in texts if fault.name in text or named.search(text)]
        here.book().end(test)


def keys_in(value: Any) -> set[str]:
    if isinstance(value, dict):
        return {*value, *(key for one in value.values() for key in keys_in(one))}
    return {key for one in value for key in keys_in(one)} if isinstance(value, list) else set()


def test_an_answer_holds_sights_readings_and_messages_only(answers: Any) -> None:
    for fault in ("element-1-grounded=0.5", "high-limit-stuck", "missing-bond", "lost-leg-1"):
        got = answers(fault, OUTSIDE)
        for _, text in got[1:-2]:
            found = json.loads(text)
            assert set(found) in ({"n", "record", "stands"}, {"said"})
            if "record" in found:
                assert set(found["record"]) <= {
                    "act", "with", "minutes", "happened", "facts", "reading", "readings", "gauge"
                }  # fmt: skip
                assert found["record"]["facts"] == {}
                assert not keys_in(found) & {"scene", "asked", "findings", "faults", "celsius", "cutoff_blown"}
            assert b"sealed-" not in text
            assert b"thermal cut-off blows" not in text
        for _, text in answers(fault, PRESSED, pressed=True)[1:-2]:
            found = json.loads(text)
            assert set(found) == {"n", "record", "said", "look", "stands", "drawing", "faces", "view"}
            assert found["view"]["findings"] is None
            assert not keys_in(found) & {"scene", "asked", "faults", "celsius", "cutoff_blown", "exhaust_celsius"}
            assert b"sealed-" not in text


def test_a_cut_off_that_blows_does_so_without_a_word(answers: Any) -> None:
    faults = "high-limit-stuck cycling-welded blocked-vent=0.75"
    acts = (("ask_heat", {"heat": "high"}), ("press_start", {}), *[("let_run", {})] * 6)
    truth = Bench(Machine(), faults.split())
    for act, given in acts:
        truth.do(act, **given)
    assert any("the thermal cut-off blows" in act["happened"] for act in truth.trail)
    got = answers(faults, acts)
    assert [status for status, _ in got].count(200) == len(got)
    assert not [text for _, text in got if b"cut-off blows" in text]
    assert any(b"the air stays cold" in text for _, text in got)
    got = answers(faults, acts, pressed=True)
    assert [status for status, _ in got].count(200) == len(got)
    assert not [text for _, text in got if b"cut-off blows" in text]
    assert {json.loads(text)["view"]["fahrenheit"] for _, text in got[3:-2]} == {None}


def test_naming_says_nothing_of_right_or_wrong(here: Any) -> None:
    said = set()
    for who in ("ada-01", "bo-02"):
        test = here.open(who)
        got = here.ask("POST", f"/tests/{test}/call-1/fault", {"fault": "element-1-open"}, who)
        said.add(got.text)
    assert len(said) == 1


STRANGE_PRESSES: tuple[bytes, ...] = (
    b'{"n": 0, "act": "go", "with": {"at": "front"}}',
    b'{"n": 0, "act": "go", "with": {"at": "front"}, "look": null}',
    b'{"n": 0, "act": "go", "with": {"at": "front"}, "look": {}}',
    b'{"n": 0, "act": "go", "with": {"at": true}, "look": ' + LOOK + b"}",
    b'{"n": 0, "act": "go", "with": {"at": ["front"]}, "look": ' + LOOK + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'"front"', b"7") + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'"A": null', b'"A": {}') + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'"B"', b'"C"') + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'"held": null', b'"held": -1') + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'"held": null', b'"held": 1e9') + b"}",
    b'{"n": 0, "act": "unplug", "with": {}, "look": ' + LOOK.replace(b'""', b'"' + b"x" * 99 + b'"') + b"}",
)


def test_a_malformed_press_gets_one_line_and_leaves_nothing(here: Any) -> None:
    test = here.open()
    for body in (*MALFORMED, *STRANGE_PRESSES):
        got = here.ask("POST", f"/tests/{test}/call-1/press", body)
        assert got.status in (400, 413), body
        assert set(got.said) == {"said"}
    page = Page(here, test)
    put = {"jaw": "block-1/cord", "bead": "motor-body-9", "airflow": False}
    page.look = {"at": "nowhere", "tips": {"A": "no spot", "B": "box-1-1"}, "dial": "fly", "held": 5, **put}
    for act, given in (("see", {}), ("again", {}), ("key", {"name": "hold"}), ("key", {"name": "hold"})):
        assert page.press(act, given).status in (200, 422)
        assert page.look == json.loads(LOOK)
    assert page.press("unplug", {}).said["n"] == 1


MALFORMED: tuple[bytes, ...] = (
    b"",
    b"{",
    b"null",
    b"[]",
    b"\xff\xfe",
    b'{"n": 0}',
    b'{"n": "0", "act": "unplug", "with": {}}',
    b'{"n": true, "act": "unplug", "with": {}}',
    b'{"n": -1, "act": "unplug", "with": {}}',
    b'{"n": 1e99, "act": "unplug", "with": {}}',
    b'{"n": 0, "act": ["unplug"], "with": {}}',
    b'{"n": 0, "act": "unplug", "with": []}',
    b'{"n": 0, "act": "unplug", "with": {}, "at": 0}',
    b'{"n": 0, "act": "unplug", "with": {}, "minutes": 0}',
    b'{"n": 0, "act": "warm_parts", "with": {"celsius": NaN}}',
    b'{"n": 0, "act": "warm_parts", "with": {"celsius": 1e400}}',
    b'{"n": 0, "act": "warm_parts", "with": {"celsius": {"x": 1}}}',
    b'{"n": 0, "act": "probe", "with": {"a": [1], "b": "case"}}',
    b'{"n": 0, "act": "' + b"x" * 500 + b'", "with": {}}',
    b'{"n": 0, "act": "clamp", "with": {"conductor": 7}}',
    b'{"n": 0, "act": "tag_wire", "with": {"wire": null, "text": null}}',
    b"[" * 1900,
    b'{"n": 0, "act": "unplug", "with": {' + b" " * 5000 + b"}}",
)


def test_a_malformed_body_gets_one_line_and_leaves_nothing(here: Any, caplog: pytest.LogCaptureFixture) -> None:
    test = here.open()
    for body in MALFORMED:
        got = here.ask("POST", f"/tests/{test}/call-1/act", body)
        assert got.status in (400, 413, 422), body
        assert set(got.said) == {"said"}
        assert 0 < len(got.said["said"]) < 400
        assert "\n" not in got.said["said"]
        assert "Traceback" not in got.said["said"]
    assert here.act(test, 0, "unplug").said["n"] == 1
    assert "Traceback" not in caplog.text


def test_strange_places_and_ways_get_one_line(here: Any) -> None:
    test = here.open()
    for way, place in (
        ("GET", "/"),
        ("GET", "/tests/../secrets/sealed"),
        ("GET", "/tests/%2e%2e/secrets"),
        ("PUT", f"/tests/{test}/call-1/act"),
        ("DELETE", f"/tests/{test}"),
        ("GET", f"/tests/{test}/call-1/act"),
        ("GET", f"/tests/{test}'--/call-1"),
        ("GET", "/state"),
        ("PATCH", "/x" * 500),
    ):
        got = here.ask(way, place)
        assert got.status in (403, 404, 405), place
        assert set(got.said) == {"said"}
        assert not {"server", "date", "etag"} & set(got.headers)


def test_another_seats_test_is_as_if_it_were_not_there(here: Any) -> None:
    hers = here.open("ada-01")
    here.act(hers, 0, "unplug")
    ways = [("GET", f"/tests/%s/{job.key}", None) for job in CALL_JOBS]
    ways += [("POST", "/tests/%s/call-1/act", {"n": 0, "act": "unplug", "with": {}}), ("POST", "/tests/%s/end", {})]
    ways += [("POST", "/tests/%s/call-1/fault", {"fault": "sound"}), ("GET", "/tests/%s/page", None)]
    for way, place, body in ways:
        got = here.ask(way, place % hers, body, "bo-02")
        none = here.ask(way, place % "calls-00000000", body, "bo-02")
        assert (
            (got.status, got.text) == (none.status, none.text) == (403, b'{"said": "There is no such test for you."}')
        )
    assert here.ask("GET", "/tests", who="bo-02").said == {"tests": []}
    assert here.act(hers, 1, "prove_meter").status == 200


def test_a_replay_gives_what_was_given_and_does_nothing(here: Any) -> None:
    test = here.open()
    first = here.act(test, 0, "unplug")
    here.act(test, 1, "prove_meter")
    assert here.act(test, 0, "unplug").text == first.text
    changed = here.act(test, 0, "open_breaker")
    assert (changed.status, changed.said["n"]) == (409, 2)
    assert here.act(test, 7, "test_dead").status == 409
    assert [one.act["act"] for one in here.book().acts(test, "ada-01", "call-1")] == ["unplug", "prove_meter"]


def test_a_press_that_is_asked_again_is_done_once_and_answered_alike(here: Any) -> None:
    test = here.open()
    page = Page(here, test)
    for act in ("unplug", "cover_off"):
        page.press(act, {})
    page.press("place", {"probe": "A", "spot": "box-1-1"})
    asked = {"n": page.n, "act": "place", "with": {"probe": "B", "spot": "box-1-2", "alone": True}, "look": page.look}
    place = f"/tests/{test}/call-1/press"
    first = here.ask("POST", place, asked)
    assert first.said["record"]["act"] == "probe"
    assert here.ask("POST", place, asked).text == first.text
    here.again()
    assert here.ask("POST", place, asked).text == first.text
    other = {**asked, "with": {"probe": "B", "spot": "box-1-3", "alone": True}}
    assert here.ask("POST", place, other).status == 409
    assert [one.act["act"] for one in here.book().acts(test, "ada-01", "call-1")] == ["unplug", "cover_off", "probe"]


def test_presses_have_their_pace_and_looking_costs_nothing(here: Any) -> None:
    here.clock.run = 0.0
    test = here.open()
    page = Page(here, test)
    got = []
    for turn in range(60):
        got.append(page.press("unplug" if turn % 2 == 0 else "plug_in", {}).status)
        if got[-1] == 429:
            break
    assert 3 < len(got) < 20
    assert got[-1] == 429
    done = page.n
    assert {page.press("go", {"at": at}).status for at in ("rear", "front") for _ in range(5)} == {200}
    assert page.press("go", {"at": "box-1"}).status == 429  # a refusal costs its time, and there is none left
    assert page.n == done == len(here.book().acts(test, "ada-01", "call-1"))
    here.clock.now += 60.0
    assert [page.press("go", {"at": "box-1"}).status for _ in range(40)].count(422) <= 27


def test_asking_in_bulk_gets_no_further_than_real_pace(here: Any) -> None:
    here.clock.run = 0.0
    test = here.open()
    here.act(test, 0, "unplug")
    taken, waits = 1, 0
    for _ in range(300):
        got = here.act(test, taken, "probe", a="plug-1", b="plug-2")
        taken += got.status == 200
        waits += got.status == 429
        if got.status == 429:
            assert got.said["said"].startswith("Too fast: on a dryer each step takes its time")
            assert got.said["wait"] > 0
    assert taken <= 1 + 5 / 0.7 + 1
    assert waits > 290
    here.again()  # a restart gives nothing back
    assert here.act(test, taken, "probe", a="plug-1", b="plug-2").status == 429
    here.clock.now += 3.0
    assert here.act(test, taken, "probe", a="plug-1", b="plug-2").status == 200


def test_a_thousand_refusals_cost_their_time_too(here: Any) -> None:
    here.clock.run = 0.0
    test = here.open()
    got = [here.act(test, 0, "probe", a="T1", b="T0").status for _ in range(60)]
    assert got.count(422) <= 27
    assert got[-1] == 429


CHILD = """
import sys
from dryerbench.notebook.supervised import supervised_bench
bench = supervised_bench(sys.argv[1], "call-1")
for act in ("unplug", "prove_meter", "test_dead", "cover_off"):
    bench.do(act)
print("done", flush=True)
sys.stdin.readline()
"""


@pytest.mark.skipif(sys.platform != "linux", reason="needs /proc")
def test_the_kernels_memory_holds_neither_secret_nor_machine(here: Any) -> None:
    test = here.open()
    name = here.room.dealer.name(test, "ada-01", "10_call_to_close").encode()
    inside = here.folder.secret("sealed").encode()
    seen = b"cover_off"
    variables = {**os.environ, "LEGTOLEG_CLASS": str(here.path().with_name("class"))}
    with subprocess.Popen(
        [sys.executable, "-c", CHILD, test], stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=variables
    ) as child:
        assert child.stdout is not None
        assert child.stdout.readline() == b"done\n"
        found = _memory(child.pid, (name, inside, seen))
        child.communicate(b"\n")
    assert found == {seen}


def _memory(pid: int, wanted: tuple[bytes, ...]) -> set[bytes]:
    found = set()
    with Path(f"/proc/{pid}/maps").open() as maps, Path(f"/proc/{pid}/mem").open("rb", 0) as memory:
        for line in maps:
            span, rights = line.split()[:2]
            if "r" not in rights or line.endswith(("[vvar]\n", "[vsyscall]\n", "[vvar_vclock]\n")):
                continue
            start, end = (int(one, 16) for one in span.split("-"))
            try:
                memory.seek(start)
                content = memory.read(end - start)
            except (OSError, ValueError):
                continue
            found |= {one for one in wanted if one in content}
    return found


def test_no_file_of_a_seat_holds_the_secret(here: Any) -> None:
    test = here.open()
    here.act(test, 0, "unplug")
    secret = here.folder.secret("sealed").encode()
    name = here.room.dealer.name(test, "ada-01", "10_call_to_close").encode()
    holders = [
        path.relative_to(here.folder.root).parts[0]
        for path in here.folder.root.rglob("*")
        if path.is_file() and {secret, name} & {one for one in (secret, name) if one in path.read_bytes()}
    ]
    assert holders == ["secrets"]
    assert (here.folder.root / "secrets").stat().st_mode & 0o077 == 0


def test_the_course_that_a_seat_holds_cannot_deal_the_machine(here: Any) -> None:
    """What follows from the apprentice's id, the test's name and the course is another machine."""
    from dryerbench.bench.worksite import machine_on
    from dryerbench.course.bench_card import machine_of
    from dryerbench.registry import sheet

    test = here.open()
    truth = machine_on(here.room.dealer.bench(test, "ada-01", CALL_JOBS[0]))
    for guess in ("ada-01", test, f"{test}/ada-01", f"sealed-{test}"):
        dealt = machine_of(sheet("10_call_to_close").card(guess))  # type: ignore[arg-type]
        assert dealt.name != truth.name
