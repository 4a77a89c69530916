"""Practice calls in a notebook: the complaint, the bench, hints, naming the fault, the paths side by side."""

from __future__ import annotations

from dataclasses import replace
from html import escape

from dryerbench.bench.access import arrangement_of, part_prices, replaceable
from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import fault_names
from dryerbench.bench.machine import Machine
from dryerbench.bench.shop_names import shop_name
from dryerbench.bench.worksite import machine_on
from dryerbench.core.errors import LegToLegError
from dryerbench.course.bench_card import machine_of
from dryerbench.diagnosis.candidates import SOUND
from dryerbench.diagnosis.complaints import heard
from dryerbench.diagnosis.service_calls import Call, CallError, compared_paths, deal_call, title_of
from dryerbench.drawing.interactive_figure import show_bundle
from dryerbench.drawing.message_box import message_box
from dryerbench.notebook.practice_stand import Dealt, Series, show_series
from dryerbench.notebook.widget_row import widget_row
from dryerbench.topics.call_to_close.sheet import CallCard


def complaint_words(call: Call) -> str:
    """Return what is known before the first reading."""
    cord = {"four-wire": "a four-wire cord", "three-wire": "an existing three-wire cord"}[machine_on(call.bench).cord]
    return f"Call {call.number}. The customer says: “{call.complaint}”. The dryer has {cord}."


class CallPad:
    """The widgets round the bench of one practice call."""

    def __init__(self, call: Call) -> None:
        import ipywidgets as widgets

        self.call = call
        offers = [(title_of(name), name) for name in (*fault_names(), SOUND)]
        self.fault = widgets.Dropdown(
            options=offers, description="The fault is", layout=widgets.Layout(width="28em", max_width="98%")
        )
        self.name = widgets.Button(description="Name it", layout=widgets.Layout(width="8em"))
        self.hint = widgets.Button(description="Hint", layout=widgets.Layout(width="8em"))
        self.compare = widgets.Button(description="Compare paths", layout=widgets.Layout(width="10em"), disabled=True)
        self.says = widgets.HTML()
        self.view = widgets.VBox([widget_row(self.hint, self.fault, self.name, self.compare), self.says])
        self.hint.on_click(lambda _: self.say(self.call.hint()))
        self.name.on_click(lambda _: self.answer())
        self.compare.on_click(lambda _: self.paths())

    def say(self, words: str) -> None:
        """Show ``words``, line by line."""
        lines = "".join(f"<div style='white-space:pre-wrap'>{escape(line)}</div>" for line in words.splitlines())
        self.says.value = message_box(lines, spoken=True)

    def answer(self) -> None:
        """Say whether the fault chosen is right; from then on the paths can be compared."""
        self.say(self.call.name_fault(self.fault.value))
        self.compare.disabled = False

    def paths(self) -> None:
        """Show one's own path and the advised one."""
        try:
            self.say(compared_paths(self.call.bench))
        except LegToLegError as error:
            self.say(str(error))


def dealt_call(number: int) -> Dealt:
    """Return the practice call ``number`` as a stand shows it.

    Raises
    ------
    CallError
        If ``number`` is no whole number from 1 on.
    """
    call = deal_call(number)
    words = complaint_words(call)
    head = f"<div style='font-size:1.1em;padding:0.4em 0'><b>{escape(words)}</b></div>"
    return Dealt(
        words,
        head,
        lambda: deal_call(number).bench,
        lambda bench: CallPad(replace(call, bench=bench)).view,
        practice=True,
    )


def practice_call(number: int = 1) -> None:
    """Show practice calls from ``number`` on: the complaint, the bench, hints and naming. Each number has its machine.

    Raises
    ------
    CallError
        If ``number`` is no whole number from 1 on.
    """
    show_series(Series(dealt_call, "practice-call"), number)


def compare_paths(bench: Bench) -> None:
    """Show the path of the readings on ``bench`` beside the advised one; on practice machines only.

    Raises
    ------
    CallError
        If the machine is somebody's own, or sound by now.
    """
    show_bundle({"text/plain": compared_paths(bench)})


def price_list(card: object = None, call: int = 2) -> None:
    """Show what each part costs and how long it takes to fit, of the dryer of a call; invented for training.

    Without a card it is the list of the lessons' dryer. Wiring of the house is on neither.

    Raises
    ------
    CallError
        If ``card`` is not the card of lesson 10.
    CardError
        If the card has no such call.
    """
    if card is not None and not isinstance(card, CallCard):
        raise CallError("Give price_list the card of lesson 10 and the call: price_list(card, 2).")
    machine = Machine() if card is None else machine_of(card, call)
    by_others = {part for part, (_, electrician) in replaceable(machine).items() if electrician}
    prices = part_prices(machine)
    there = [part for part in prices if part not in by_others and (card is not None or prices[part][1] > 0)]
    named = {_in_words(machine, part): prices[part] for part in there}
    whose = "" if card is None else f" Dryer of call {call}."
    head = f"Prices and times, invented for training: no shop's and no manufacturer's.{whose}"
    wide = max(20, *map(len, named))
    lines = [f"  {part:<{wide}} ${dollars:g}  {minutes:g} min" for part, (minutes, dollars) in named.items()]
    cells = "".join(
        f"<tr><th scope='row' style='text-align:left;font-weight:normal'>{escape(part)}</th>"
        f"<td>${dollars:g}</td><td>{minutes:g} min</td></tr>"
        for part, (minutes, dollars) in named.items()
    )
    caption = f"<caption style='text-align:left;caption-side:top'><b>{head}</b></caption>"
    titles = (
        "<thead><tr><th style='text-align:left'>part</th><th>part costs</th><th>minutes to install</th></tr></thead>"
    )
    plain = "\n".join([head, *lines])
    show_bundle({"text/plain": plain, "text/html": f"<table>{caption}{titles}<tbody>{cells}</tbody></table>"})


def _in_words(machine: Machine, part: str) -> str:
    """Return ``part`` with what kind of part it is, where its name alone does not say it."""
    there = arrangement_of(machine).by_name.get(part) if machine.stands is not None else None
    return f"{part} ({there.kind.name})" if there else shop_name(part)


def heard_as() -> None:
    """Show what customers tell, and what it could be: made from the table ``heard-as``."""
    rows = [(title, [title_of(name) for name in faults]) for title, faults in heard().values()]
    plain = "\n".join(
        ["What the customer says, and what it could be", *(f"  {title}: {'; '.join(f)}" for title, f in rows)]
    )
    cells = "".join(
        f"<tr><th scope='row' style='text-align:left;font-weight:normal'>{escape(title)}</th>"
        f"<td style='text-align:left'>{escape('; '.join(faults))}</td></tr>"
        for title, faults in rows
    )
    titles = "".join(f"<th style='text-align:left'>{one}</th>" for one in ("heard", "what it could be"))
    head = f"<thead><tr>{titles}</tr></thead>"
    show_bundle({"text/plain": plain, "text/html": f"<table>{head}<tbody>{cells}</tbody></table>"})
