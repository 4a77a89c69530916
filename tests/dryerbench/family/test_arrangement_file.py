"""A machine's file is read strictly: what cannot be right is one line that names file and line."""

from __future__ import annotations

import re

import pytest

from dryerbench.family.arrangement_file import read_arrangement
from dryerbench.family.lines import FamilyFileError
from dryerbench.family.shelf import FOLDER, UnknownMachineError, arrangement, machine_names

CELLAR = (FOLDER / "cellar.txt").read_text(encoding="utf-8")


def broken(old: str, new: str) -> str:
    assert old in CELLAR
    return CELLAR.replace(old, new, 1)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "the file says nothing"),
        (broken("machine: Cellar", "machine Cellar"), "line 2: 'machine Cellar' has no colon"),
        (broken("idea:", "thought:"), "'thought' is no word that starts a line"),
        (broken("made for: 240 V", "made for: 120 V"), "'120 V' cannot be read"),
        (broken("made for: 240 V", "made for:"), "nothing stands after 'made for:'"),
        (broken("cord: three-wire", "cord: two-wire"), "'two-wire' is none of three-wire, four-wire"),
        (broken("cord: three-wire", "cord: four-wire"), "a three-wire dryer has a strap"),
        (broken("service: front", "service: front\nservice: rear"), "a second line 'service'; the first is line 6"),
        (broken("heats: high, low", "heats: high, warm"), "'warm' is none of high, mid, low"),
        (broken("part: Cut, cut-off, opens 322 F", "part: Cut, cut off, opens 322 F"), "'cut off' is no kind of part"),
        (broken("part: Cut, cut-off, opens 322 F", "part: Cut, cut-off"), "a cut-off needs its opens"),
        (broken("closes 203 F", "closes 303 F"), "Lim must close again below"),
        (broken("closes 203 F", "closes often"), "'closes often' says nothing that a high limit has"),
        (broken("opens 238 F, closes 203 F", "opens 238 F, opens 239 F, closes 203 F"), "a second time"),
        (broken("part: Low,", "part: Run,"), "'Run' is in the file twice"),
        (broken("on air high low", "on fluff high low"), "'fluff' is no position"),
        (broken("part: Cen,", "part: cen,"), "'cen' is no name of a part"),
        (broken("coil: p to q", "coil: p to p"), "a coil has two ends"),
        (broken("coil: p to q, 10.6 ohm", "coil: p to q, ten ohm"), "write it as in: coil: p to q, 10.6 ohm"),
        (broken("wire: Cut.2 to Cen.1", "wire: Cut.3 to Cen.1"), "there is no terminal 'Cut.3'"),
        (broken("black ring", "blue ring"), "'blue' is none of white, brass, slate, black"),
        (broken("wire: Bias.2 to N, white plain", "wire: Bias.2 to N, black plain"), "white plain is the mark"),
        (broken("wire: Heat.2 to Cyc.1, black dash\n", ""), "no wire goes to Heat.2"),
        (broken("Lim - p coil q - Cut", "Cut - p coil q - Lim"), "no wire leads from Cyc to Cut"),
        (broken("p coil q - Cut", "p coil r - Cut"), "no wire leads from Lim to p coil r"),
        (broken("Cyc.1 - Low", "Cyc.2 - Low"), "no wire leads from Cyc.2 to Low"),
        (broken("wire: Heat.2 to Cyc.1", "wire: Heat.1 to Cyc.1"), "no wire goes to Heat.2"),
        (broken("wire: Fuse.2 to Door.1", "wire: Fuse.1 to Door.1"), "no wire goes to Fuse.2"),
        (broken("Start beside Hold", "Start beside Cen"), "no wire leads from Door to Start beside Cen"),
        (broken("sheet: Box.p to Box.q", "sheet: Box.p to Box.z"), "there is no point 'Box.z'"),
        (broken("off: 10.6 ohm", "off: 10.6 volts"), "'10.6 volts' is no reading"),
        (broken("amps at L1", "amps at L3"), "'L3' is none of L1, L2, N"),
        (broken("amps at L1", "amps of L1"), "'amps of L1' is no place"),
        (broken("high on 240 V, 5434 W", "hot on 240 V, 5434 W"), "'hot' is none of high, mid, low"),
        (broken("4 hex, after top", "4 nails, after top"), "'nails' is none of hex, Ph, sq, qt"),
        (broken("after top", "after roof"), "'roof' is no cover above this line"),
        (broken("bares block", "bares Cut"), "Cut must be bared by one cover, not by 2"),
        (broken("stands: door frame, Door\n", ""), "one line 'stands' must say where Door stands"),
        (broken("seats p 1-1 q 2-1", "seats p 1-1"), "every terminal of the heater box needs one seat"),
        (broken("seats p 1-1 q 2-1", "seats p left q right"), "are no seats"),
        (broken("may: mirror left-right", "may: spin"), "'spin' is none of mirror left-right"),
        (broken("trap:", "# trap:"), "the file ends without a line 'trap'"),
    ],
)
def test_a_line_that_cannot_be_right_is_named(text: str, words: str) -> None:
    with pytest.raises(FamilyFileError, match=re.escape(words)) as caught:
        read_arrangement("cellar.txt", text)
    assert re.match(r"cellar\.txt, line \d+: [^\n]+$", str(caught.value))


def test_every_machine_on_the_shelf_is_read() -> None:
    assert len(machine_names()) >= 13
    for name in machine_names():
        made = arrangement(name)
        assert made.name.lower() == name
        assert made.cord in ("three-wire", "four-wire")


def test_a_machine_that_is_not_there() -> None:
    with pytest.raises(UnknownMachineError, match=r"There is no dryer 'palace'\. The dryers are: alcove"):
        arrangement("palace")


def test_the_family_spans_what_the_trade_has() -> None:
    """One, two apart, two and three shared coils; dial, relay, two relays; limits in either leg; both cords."""
    made = [arrangement(name) for name in machine_names()]
    assert {(len(one.coils), bool(one.shared)) for one in made} == {
        (1, False),
        (2, False),
        (2, True),
        (3, True),
    }
    assert {one.board for one in made} == {True, False}
    assert {one.cord for one in made} == {"three-wire", "four-wire"}
    assert {one.made_for for one in made} == {240, 208}
    assert {one.service for one in made} == {"front", "rear", "both sides"}
    kinds = {part.kind.name for one in made for part in one.parts}
    for kind in ("manual cut-off", "low thermostat", "thermal fuse", "belt switch", "lamp", "follower relay"):
        assert kind in kinds
    assert {len(one.of_kind("heat relay", "changeover relay", "follower relay")) for one in made} >= {0, 1, 2}
    assert any(not one.of_kind("belt switch") for one in made)
    assert any(not one.of_kind("thermal fuse") for one in made)
