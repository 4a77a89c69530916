"""Every word that a bench shows, on every machine of the family: the shop's word, never a key of trails and tables.

The panel's lists, each act's message and refusal, the trail, each finding, each fault's title, each part and its price.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from dryerbench.bench.access import part_prices, replaceable
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import catalogue, fault_names, from_family
from dryerbench.bench.machine import Machine, on_the_bench
from dryerbench.bench.shop_names import SHOP_NAMES, bench_name, bench_names, listed, mode_words, shop_name
from dryerbench.bench.worksite import BenchError, faults_on, machine_on
from dryerbench.core.tables import table
from dryerbench.diagnosis.candidates import menu as lessons_menu
from dryerbench.diagnosis.machine_menu import menu
from dryerbench.diagnosis.service_calls import compared_paths, deal_call, title_of
from dryerbench.family.faults import faults_of
from dryerbench.family.machine import standard
from dryerbench.family.shelf import arrangement, machine_names
from dryerbench.notebook.bench_view import act_words, words_of
from dryerbench.notebook.machine_desk import MachineDesk
from dryerbench.notebook.machine_hints import reading_words
from dryerbench.notebook.machine_names import own_names

from .walking import twin, variants_on

sys.path.insert(0, str(Path(__file__).parents[2]))

from shop_words import unsaid

LESSONS_OWN = "the lessons' own"
MACHINES = (LESSONS_OWN, *machine_names())
OPENED = ("unplug", "prove_meter", "test_dead", "prove_meter", "cover_off")
IN_SENTENCES = {"block", "hood"}
"""Names that alone are no word of the shop, and in a sentence are: hands off the block, air at the hood."""
ALONE = sorted({*SHOP_NAMES, "low-impedance"} - IN_SENTENCES, key=len, reverse=True)
KEYS = re.compile(rf"(?<![\w-])(?:{'|'.join(ALONE)})(?![\w-])")
"""The names that are only for trails, tables and code."""
SHOP = re.compile("|".join(sorted(map(re.escape, {*SHOP_NAMES.values()}), key=len, reverse=True)))


def wrong(words: str) -> list[str]:
    """Return what ``words``, shown by a bench, says otherwise than the shop."""
    if words in SHOP_NAMES:
        return [f"the key “{words}”"]
    return [*unsaid(words), *(f"the key “{one}”" for one in KEYS.findall(SHOP.sub("", words)))]


def stood(name: str) -> Bench:
    """Return a bench with a machine that is opened dead."""
    bench = Bench() if name == LESSONS_OWN else Bench(on_the_bench(standard(arrangement(name))))
    for act in OPENED:
        bench.do(act, **({"where": "plug"} if act == "test_dead" else {}))
    return bench


def lists_of(desk: MachineDesk) -> Iterator[str]:
    """Yield every word of the panel's lists and of what is seen."""
    offered = desk.menu()
    for name in ("parts", "dead", "covers", "box"):
        yield from (one[1] for one in offered[name])  # type: ignore[union-attr]
    yield from offered["cords"]  # type: ignore[misc]
    for one in offered["more"]:  # type: ignore[union-attr]
        yield one["title"]
        yield from (choice[1] for field in one["fields"] for choice in field["choices"] or ())
    view = desk.shown()["view"]
    yield from (words for _, words in view["places"])  # type: ignore[union-attr]
    yield from (words for _, there in view["reach"] for _, words in there)  # type: ignore[union-attr]
    yield from (words for _, words, *_ in view["wires"])  # type: ignore[union-attr]
    yield from view["trail"]  # type: ignore[misc]


def said_of_acts(name: str) -> Iterator[str]:
    """Yield what a bench says of every act, done or refused, on an opened machine and on one that is closed."""
    for start in (stood(name), Bench(machine_on(stood(name)))):
        named = own_names(start, named=name == LESSONS_OWN)
        strange = [("probe", {"a": "T0", "b": "nowhere"}), ("replace_part", {"part": "nothing"}),
                   ("order_part", {"part": "nothing"}), ("test_dead", {"where": "nowhere"}), ("look", {"place": "x"}),
                   ("pull_wire", {"wire": "x"}), ("tap", {"part": "x", "a": "T1", "b": "T0"}),
                   ("wiggle", {"wire": "x", "a": "T1", "b": "T0"}), ("clamp", {"conductor": "x"}),
                   ("set_dial", {"mode": "low-impedance"}), ("ask_heat", {"heat": "x"})]  # fmt: skip
        for act, given in (*variants_on(start), *strange):
            bench = twin(start)
            try:
                bench.do(act, **given)
            except BenchError as refused:
                yield named.clean(str(refused))
                continue
            yield act_words(named.of_act(bench.trail[-1]))
            yield from (named.clean(f"{one}") for one in bench.findings)


@pytest.mark.parametrize("name", MACHINES)
def test_lists_acts_and_refusals_are_in_the_words_of_the_shop(name: str) -> None:
    bench = stood(name)
    names = own_names(bench, named=name == LESSONS_OWN)
    said = {*lists_of(MachineDesk(names)), *said_of_acts(name), words_of(bench, names)}
    assert len(said) > 100
    assert not {words: found for words in said if (found := wrong(words))}


@pytest.mark.parametrize("name", MACHINES)
def test_faults_parts_and_readings_are_in_the_words_of_the_shop(name: str) -> None:
    machine = Machine() if name == LESSONS_OWN else on_the_bench(standard(arrangement(name)))
    names = own_names(Bench(machine), named=name == LESSONS_OWN)
    faults = fault_names() if name == LESSONS_OWN else [from_family(one).name for one in faults_of(arrangement(name))]
    said = [str(catalogue(fault)["title"]) for fault in faults]
    said += [names.of_part(part) for part in (*replaceable(machine), *part_prices(machine))]
    if name != LESSONS_OWN:
        said += [reading_words(names, one) for one in menu(arrangement(name))]
        said += [str(catalogue(fault)["complaint"]) for fault in faults]
    assert not {words: found for words in said if (found := wrong(words))}


def test_hints_and_paths_of_the_lessons_dryer_are_in_the_words_of_the_shop() -> None:
    said = [f"{mode_words(one.mode)} at {listed(one.places)}" for one in lessons_menu()]
    said += [title_of(name) for name in (*fault_names(), "sound")]
    for number in (1, 2, 3):
        call = deal_call(number)
        said += [call.hint(), call.name_fault("cut-off-blown")]
        said += [compared_paths(call.bench)] if faults_on(call.bench) else []
    assert any("cabinet" in words for words in said)
    assert not {words: found for words in said if (found := wrong(words))}


def test_each_finding_and_each_act_is_in_the_words_of_the_shop() -> None:
    said = [row.text(column) for row in table("bench-findings").rows for column in ("what", "caution", "origin")]
    said += table("bench-acts").texts("title")
    said += [shop_name(row.text("point")) for row in table("test-points").rows] + table("test-points").texts("title")
    assert not {words: found for words in said if (found := wrong(words))}


def test_a_name_and_its_word_lead_to_each_other() -> None:
    places = {"outlet", "block", "hood", "heat switches"}
    assert all(bench_name(shop_name(name)) == name for name in SHOP_NAMES.keys() - places)
    assert bench_names({"where": "terminal block"}) == {"where": "block"}
    assert bench_names({"place": "thermostats"}) == {"place": "heat switches"}
    for key in ("part", "place"):
        assert bench_names({key: "terminal block"}) == {key: "terminal block"}, "the bench's own name of it"
    assert bench_names({"a": "cabinet", "b": "T0", "text": "cabinet"}) == {"a": "case", "b": "T0", "text": "cabinet"}
    assert shop_name("T0") == "T0" == bench_name("T0")


def test_both_names_do_the_same_and_the_record_keeps_the_old_one() -> None:
    old, new = stood(LESSONS_OWN), stood(LESSONS_OWN)
    for bench, case, coil, slot in ((old, "case", "element 2", "outlet"), (new, "cabinet", "coil 2", "receptacle")):
        bench.ohms("T0", case)
        bench.do("replace_part", part=coil)
        bench.do("gear_on")
        bench.do("test_dead", where=slot)
        bench.low_impedance(f"{slot}-1", f"{slot}-2")
    assert old.trail == new.trail
    assert [act["with"].get("b") for act in new.trail if act["act"] == "probe"] == ["case", "outlet-2"]


def test_a_key_that_is_shown_would_be_found() -> None:
    for words in ("ohms, T0 to case: OL", "element 2", "LoZ volts · outlet-1 to outlet-2", "replace a part (elements)"):
        assert wrong(words), words
    for words in ("ohms, T0 to cabinet: OL", "coil 2", "LoZ volts · receptacle-1 to receptacle-2", "whole element"):
        assert not wrong(words), words
