"""The desk of a drawn machine: does what a page asks for by place and press, and says what the page then shows.

Every act goes through ``Bench.do``, as it does by code. Where one looks, and where the tips are, is no act. There is no
browser in here: ``MachinePanel`` puts a desk on a page, and in a supervised test the class keeps it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from dryerbench.bench.access import behind
from dryerbench.bench.adjustments import resettable
from dryerbench.bench.contact import reach
from dryerbench.bench.meter_ranges import ranges
from dryerbench.bench.senses import tappable
from dryerbench.bench.trail import Act
from dryerbench.core.errors import LegToLegError
from dryerbench.machine_view.picking import symbols_at
from dryerbench.notebook.bench_view import act_words
from dryerbench.notebook.forms import LONGEST_TRAIL
from dryerbench.notebook.kept_bench import KeptBench
from dryerbench.notebook.machine_names import MachineNames
from dryerbench.notebook.machine_offers import offers, seen
from dryerbench.notebook.machine_picks import picked_words, symbol_marks
from dryerbench.notebook.machine_scene import (
    DIAL,
    Look,
    Shown,
    covers_off,
    drawn,
    faces,
    hand_of,
    last_read,
    on_display,
    places,
    position,
)
from dryerbench.notebook.panel_lists import ALL, Lists
from dryerbench.notebook.tool_places import (
    bead_place,
    conductor_of,
    jaw_holds,
    jaw_place,
    jaw_words,
    place_of,
    touched_places,
    warm_words,
)

STRANGE = "The panel sent something that is not an act. Run the cell of the bench again."
ALONE = ("off", "clamp", "temp")
"""Positions of the dial with which two probes do not read."""
_RUNNING = ("clamp", "temp")
"""Positions of the dial that are for a machine that runs."""
_OVEN = (-4.0, 482.0)
"""°F at which parts can be held."""
_TURNED = {"probe": "", "clamp": "clamp", "temperature": "temp"}
"""Where the dial stands after a reading."""


def asked(content: object) -> tuple[str, dict[str, object]]:
    """Return the act that a page asks for, and its details.

    Raises
    ------
    LegToLegError
        If ``content`` is none.
    """
    act, given = (content.get("act"), content.get("with", {})) if isinstance(content, dict) else (None, None)
    if not isinstance(act, str) or not isinstance(given, dict):
        raise LegToLegError(STRANGE)
    return act, given


class MachineDesk:
    """The desk of the bench that ``names`` is of; ``lists`` are the lists of acts that it offers.

    In ``practice`` a part that is picked on the wiring sheet is marked in the machine, and the other way round.
    """

    def __init__(
        self, names: MachineNames, lists: Lists = ALL, look: Look | None = None, *, practice: bool = False
    ) -> None:
        self.names, self.bench, self.lists = names, names.bench, lists
        self._nothing = frozenset[str]() if practice else None
        self.look = look or Look(picked=self._nothing)
        self.kept = self.bench if isinstance(self.bench, KeptBench) else None

    @property
    def acts(self) -> int:
        """How many acts the job has by now."""
        return len(self.bench.trail)

    @property
    def trouble(self) -> str:
        """Why acts are not kept just now, in a sentence; empty if they are."""
        return self.kept.trouble if self.kept else ""

    def menu(self) -> dict[str, object]:
        """Return what does not change while one works."""
        return {**offers(self.names, self.lists), "kept": self.kept is not None}

    def ask(self, content: object) -> str:
        """Do what a page asks for and return what is said of it.

        Raises
        ------
        LegToLegError
            If it cannot be done; the text has no name that the page may not have.
        """
        try:
            return self.do(*asked(content))
        except LegToLegError as error:
            raise LegToLegError(self.names.clean(str(error))) from None

    def shown(self) -> Shown:
        """Return what a page shows of the bench as it now is; a tip that reaches nothing any more is off."""
        for letter, spot in self.look.tips.items():
            if spot is not None and not self._reaches(spot):
                self.look.tips[letter] = None
        if self.look.at not in [at for at, _ in places(self.names)]:
            self.look.at = "front"
        self._let_go()
        if on_display(self.bench.trail, self.look)[0] is None:
            self.look.held = None
        drawing = drawn(self.names, self.look, hood="airflow" in self.lists.more)
        return {"drawing": drawing, "faces": faces(self.bench, self.look), "view": seen(self.names, self.look)}

    def _let_go(self) -> None:
        """Take off what the dial has no use for, and what is out of reach: closed in, or its wire pulled."""
        look, hand = self.look, hand_of(self.bench, self.look)
        if look.jaw and (hand != "clamp" or not jaw_holds(self.names, look.jaw)):
            look.jaw = ""
        if look.bead and (hand != "temp" or look.bead not in touched_places(self.names)):
            look.bead = ""

    def check_length(self) -> None:
        """Pass while the job may have more acts.

        Raises
        ------
        LegToLegError
            If it has the most that one job may have.
        """
        if self.acts >= LONGEST_TRAIL:
            raise LegToLegError(f"{LONGEST_TRAIL} acts are the most that one job may have: start this dryer over.")

    def on_bench(self, act: str, given: Mapping[str, object]) -> Act:
        """Do one act on the bench and return its record; ``given`` is in the bench's own words."""
        return self.bench.do(act, **given)

    def meant(self, act: str, given: Mapping[str, object]) -> dict[str, object]:
        """Return what an act is given, in the bench's words: a coil is chosen by its ends where coils have no names.

        Raises
        ------
        NoSuchPlaceError
            For a place, a wire or a part that the machine does not have.
        """
        if act == "replace_part" and ("a" in given or "b" in given):
            return {"part": self.names.coil_between(given.get("a"), given.get("b"))}
        found = self.names.given(given)
        if act == "replace_part":
            found["part"] = self.names.part(given.get("part"))
        if act == "temperature":
            found["spot"] = place_of(self.names, given.get("spot"))
        if act == "reset":
            found["part"] = {self.names.of_part(part): part for part in resettable(self.names.machine)}.get(
                str(given.get("part")), ""
            )
        if act == "order_part":
            found["part"] = self.names.order(given.get("part"))
        if act == "tap":
            parts = {self.names.of_part(part): part for part in tappable(self.bench)}
            there = given.get("part")
            if not isinstance(there, str) or there not in parts:
                raise LegToLegError("There is no such part to tap.")
            found["part"] = parts[there]
        return found

    # --- what is asked --------------------------------------------------------------------------------------

    def do(self, act: str, given: dict[str, object]) -> str:
        """Do one thing that a page asks for, and return what is said of it."""
        if act == "start_again" and self.kept:
            self.look = Look(picked=self._nothing)
            return self.kept.start_again()
        own: Mapping[str, Callable[[dict[str, object]], str]] = {"go": self._go, "lift": self._lift, "key": self._key}
        if act in own:
            return own[act](given)
        self.check_length()
        own = {
            "place": self._place,
            "again": lambda _: self._again(),
            "press": self._press,
            "wire": self._wire,
            "dial": self._dial,
            "warm_parts": self._warm,
            "clamp": self._clamp,
            "temperature": self._touch,
        }
        return own[act](given) if act in own else self._act(act, **self.meant(act, given))

    def _act(self, act: str, **given: object) -> str:
        record = self.on_bench(act, {str(key): value for key, value in given.items()})
        self.look.dial = _TURNED.get(act, self.look.dial)
        self.look.airflow = self.look.airflow or act == "airflow"
        shown = self.names.of_act(record)
        return "; ".join(shown["happened"]) or f"Done: {act_words(shown)}."

    # --- where one looks ------------------------------------------------------------------------------------

    def _go(self, given: dict[str, object]) -> str:
        """Look at a side or a place; that is no act."""
        there = [one for one, _ in places(self.names)]
        at = given.get("at")
        if self.look.picked is not None and isinstance(at, str) and at in (marks := symbol_marks(self.names)):
            self.look.picked = frozenset((marks[at],))
            return picked_words(self.names, marks[at])
        if not isinstance(at, str) or at not in there:
            raise LegToLegError("That place is behind a cover: take the cover off first.")
        self.look.at = at
        return ""

    def _press(self, given: dict[str, object]) -> str:
        """Do what a press on a thing of the whole machine does: plug, breaker, a cover, the tray of screws."""
        at = given.get("at")
        state = self.bench.state
        if at == "plug":
            return self._act("unplug" if state.plugged else "plug_in")
        if at == "breaker":
            return self._act("open_breaker" if state.breaker_on else "close_breaker")
        if at == "hood" and "airflow" in self.lists.more:
            return self._act("airflow")
        covers = {f"cover-{number}": cover.name for number, cover in enumerate(self.names.own.covers, start=1)}
        if isinstance(at, str) and at in covers:
            off = covers[at] in self.bench.covers_off
            return self._act("cover_on" if off else "cover_off", cover=covers[at])
        if at == "tray":
            off_now = covers_off(self.names.own, self.bench)
            return f"Off so far: {', '.join(off_now)}." if off_now else "No screw is out."
        raise LegToLegError("Nothing is done at that place of the drawing.")

    # --- wires and parts ------------------------------------------------------------------------------------

    def _wire(self, given: dict[str, object]) -> str:
        """Pull a wire off, or put it back."""
        wire = str(self.names.given({"wire": given.get("wire")})["wire"])
        return self._act("put_back_wire" if wire in self.bench.state.pulled else "pull_wire", wire=wire)

    def _warm(self, given: dict[str, object]) -> str:
        """Hold the parts at °F."""
        warm = given.get("fahrenheit")
        if isinstance(warm, bool) or not isinstance(warm, int | float) or not _OVEN[0] <= warm <= _OVEN[1]:
            raise LegToLegError(f"Parts can be held at {_OVEN[0]:g} to {_OVEN[1]:g} °F: write a number.")
        return self._act("warm_parts", celsius=round((warm - 32.0) / 1.8, 2))

    # --- the meter ------------------------------------------------------------------------------------------

    def _dial(self, given: dict[str, object]) -> str:
        """Turn the dial; positions without probes (off, clamp, temp) are the page's own and no act."""
        at = given.get("at")
        if not isinstance(at, str) or at not in (*DIAL, *ALONE):
            raise LegToLegError(STRANGE)
        if at in _RUNNING and "Run" not in self.lists.pages:
            raise LegToLegError(f"Nothing runs in this lesson: {at} has nothing to read.")
        self.look.held = None
        if at in ALONE:
            self.look.dial = at
            return {
                "off": "The meter is off.",
                "clamp": "Press the wire that the clamp goes around.",
                "temp": "Press the place that the temperature probe touches.",
            }[at]
        self.look.dial = ""
        if self.bench.mode != DIAL[at] or "full_scale" in given:
            scale = given.get("full_scale")
            self.on_bench("set_dial", {"mode": DIAL[at], "full_scale": scale})
        return f"The dial is on {at}."

    def _key(self, given: dict[str, object]) -> str:
        """Press one of the meter's three keys."""
        key = given.get("name")
        if key == "hold":
            self.look.held = last_read(self.bench.trail) if self.look.held is None else None
            return "The display is not held." if self.look.held is None else "The display is held."
        at = position(self.bench, self.look)
        if key not in ("range", "relative") or at not in DIAL:
            raise LegToLegError("Turn the dial to a setting for two probes first.")
        self.check_length()
        if key == "relative":
            return self._act("null_leads")
        scales: list[float | None] = [None, *(scale.full_scale for scale in ranges(self.bench.mode))]
        then = scales[(scales.index(self.bench.full_scale) + 1) % len(scales)]
        return self._act("set_dial", mode=self.bench.mode, full_scale=then)

    def _lift(self, _: dict[str, object]) -> str:
        look = self.look
        what = "The clamp is" if look.jaw else "The temperature probe is" if look.bead else "Both probes are"
        if look.airflow:
            what = "Everything is"
        look.tips, look.jaw, look.bead, look.airflow = {"A": None, "B": None}, "", "", False
        return f"{what} off."

    def _spot(self, said: object) -> str:
        """Return the spot that the page means; where names are shown, a name does too."""
        if isinstance(said, str) and said in self.names.point_at:
            return said
        return self.names.spot_of[self.names.point(said)]

    def _place(self, given: dict[str, object]) -> str:
        """Put one probe on a spot (``alone``: the other stays where it is); with both in place the meter reads."""
        letter = given.get("probe")
        if not isinstance(letter, str) or letter not in self.look.tips:
            raise LegToLegError(STRANGE)
        spot = self._spot(given.get("spot"))
        self._reach(spot)
        if letter == "A" and not given.get("alone"):
            self.look.tips["B"] = None
        self.look.tips[letter] = spot
        if self.look.picked is not None:
            self.look.picked = symbols_at(self.names.own, symbol_marks(self.names).values(), self.names.terminal(spot))
        if self.look.tips["B" if letter == "A" else "A"] is None:
            return f"Probe {letter} is on {self.names.at_spot(spot)}. Now the other one."
        return self._read()

    def _reach(self, spot: str) -> None:
        point = self.names.point_at[spot]
        if point not in behind(self.names.machine):
            raise LegToLegError("Nothing is measured at this terminal in the lessons.")
        try:
            reach(self.bench, point)
        except LegToLegError as error:
            words = self.names.at_spot(spot)
            raise LegToLegError(
                str(error).replace(point, words[0].upper() + words[1:] if not self.names.named else words)
            ) from None

    def _read(self) -> str:
        a, b = self.look.tips["A"], self.look.tips["B"]
        if a is None or b is None:
            raise LegToLegError("Put both probes on a terminal first.")
        if self.look.dial:
            raise LegToLegError(f"The dial is on {self.look.dial}: turn it to a setting for the two probes.")
        self.look.held = None
        record = self.on_bench("probe", {"a": self.names.point_at[a], "b": self.names.point_at[b]})
        return "; ".join(self.names.of_act(record)["happened"])

    # --- clamp and temperature probe ------------------------------------------------------------------------

    def _clamp(self, given: dict[str, object]) -> str:
        """Put the clamp around a conductor that was pressed or chosen in the list, and read."""
        said = given.get("conductor")
        self._act("clamp", **self.meant("clamp", {"conductor": conductor_of(said)}))
        self.look.jaw = jaw_place(self.names, str(said), self.look.at)
        shown = self.bench.trail[-1]["reading"]["shown"]
        return f"The clamp is around {jaw_words(self.names, self.look.jaw)}: {shown}."

    def _touch(self, given: dict[str, object]) -> str:
        """Put the temperature probe on a place that was pressed or chosen in the list, and read."""
        meant = self.meant("temperature", {"spot": given.get("spot"), "unit": given.get("unit", "°F")})
        self._act("temperature", **meant)
        self.look.bead = bead_place(self.names, str(meant["spot"]))
        shown = self.bench.trail[-1]["reading"]["shown"]
        return f"The temperature probe is at {warm_words(self.names, str(meant['spot']))}: {shown}."

    def _again(self) -> str:
        """Read again what is in hand where it is."""
        hand = hand_of(self.bench, self.look)
        if hand == "clamp" and self.look.jaw:
            return self._clamp({"conductor": self.look.jaw})
        if hand == "temp" and self.look.bead:
            return self._touch({"spot": self.look.bead, "unit": self._last_unit()})
        if hand:
            raise LegToLegError("Press a wire first." if hand == "clamp" else "Press a place for the probe first.")
        return self._read()

    def _last_unit(self) -> str:
        """Return the unit in which the temperature was read last."""
        read = (act["with"].get("unit") for act in reversed(self.bench.trail) if act["act"] == "temperature")
        return str(next(read, None) or "°F")

    def _reaches(self, spot: str) -> bool:
        try:
            reach(self.bench, self.names.point_at[spot])
        except LegToLegError:
            return False
        return True
