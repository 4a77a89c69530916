"""Practice calls on machines not seen before: the customer's words, the unnamed machine, hints, naming, a check."""

from __future__ import annotations

from collections.abc import Callable
from html import escape

from dryerbench.bench.bench import Bench
from dryerbench.bench.faults import family_of, read_fault
from dryerbench.bench.worksite import faults_on
from dryerbench.diagnosis.machine_calls import MachineCall, machine_call_of
from dryerbench.drawing.message_box import message_box
from dryerbench.family.tech_sheet import sheet_lines
from dryerbench.notebook.machine_hints import Search
from dryerbench.notebook.machine_names import MachineNames, own_names
from dryerbench.notebook.practice_stand import Dealt, Series, show_series
from dryerbench.notebook.widget_row import widget_row


def checked(call: MachineCall, bench: Bench, names: MachineNames) -> str:
    """Return whether the job is done as it should be, without saying what was wrong."""
    handed = [str(act["with"].get("to")) for act in bench.trail if act["act"] == "stop_and_hand_over"]
    fitted = dict.fromkeys(str(act["with"].get("part")) for act in bench.trail if act["act"] == "replace_part")
    spare = [names.of_part(part) for part in fitted if part not in call.parts]
    unsafe = sum(one.gate for one in bench.findings)
    if call.hands:
        right = len(handed) == 1 and call.goes_to(handed[0])
        said = f"Right: this job is for the {handed[0]}." if right else "This job is not closed yet."
    elif still := faults_on(bench):
        said = f"Not repaired yet: {len(still)} of {len(call.faults)} faults still there."
    else:
        said = "Everything that was wrong is fixed." if call.faults else "Nothing was wrong with this dryer."
    if spare and not call.hands:
        said += f" Not needed: {', '.join(spare)}."
    return said + (f" Unsafe acts: {unsafe}; see Safety." if unsafe else " No unsafe act.")


def was_wrong(call: MachineCall, names: MachineNames) -> str:
    """Return what was wrong, by the places of the drawing."""
    known = family_of(call.machine, [read_fault(fault, call.machine) for fault in call.faults])
    told = [f"{fault.kind.name.replace('-', ' ')}{_where(fault.on, names)}" for fault in known]
    return f"It was: {'; '.join(told)}." if told else "Nothing was wrong."


def _where(on: str, names: MachineNames) -> str:
    coil = next((coil for coil in names.own.arrangement.coils if coil.name == on), None)
    if coil is not None:
        return f" (between {' and '.join(names.of_point(end) for end in coil.ends)})"
    words = names.clean(names.of_part(on))
    return f" ({words})" if words else ""


class MachineCallPad:
    """The buttons under the bench of a call on a machine not seen before."""

    def __init__(self, call: MachineCall, bench: Bench) -> None:
        import ipywidgets as widgets

        self.call, self.bench, self.names = call, bench, own_names(bench, named=False)
        self.search = Search(call, bench, self.names)

        def button(words: str, width: str, *, disabled: bool = False) -> widgets.Button:
            return widgets.Button(description=words, layout=widgets.Layout(width=width), disabled=disabled)

        self.sheet, self.hint = button("Tech sheet", "9em"), button("Hint", "8em")
        self.fault = widgets.Dropdown(
            options=list(self.search.offers),
            description="The fault is",
            layout=widgets.Layout(width="32em", max_width="98%"),
        )
        self.name, self.compare = button("Name it", "8em"), button("Compare paths", "10em", disabled=True)
        self.check, self.tell = button("Check the job", "10em"), button("What was wrong", "11em", disabled=True)
        self.says = widgets.HTML()
        row = (self.sheet, self.hint, self.fault, self.name, self.compare, self.check, self.tell)
        self.view = widgets.VBox([widget_row(*row), self.says])
        self._listen()

    def _listen(self) -> None:
        made, marks = self.names.own.arrangement, self.names.own.marks
        self.sheet.on_click(lambda _: self.say("\n".join(sheet_lines(made, marks))))
        self.hint.on_click(lambda _: self.work_out(self.search.hint))
        self.name.on_click(lambda _: self.judge_name())
        self.compare.on_click(lambda _: self.work_out(self.search.paths))
        self.check.on_click(lambda _: self.judge())
        self.tell.on_click(lambda _: self.say(was_wrong(self.call, self.names)))

    def work_out(self, words: Callable[[], str]) -> None:
        """Say that it takes a moment, then what ``words`` returns."""
        self.say("One moment: every reading of this dryer is worked out.")
        self.say(words())

    def judge_name(self) -> None:
        """Say whether the fault chosen is right; from then on the paths can be compared."""
        self.work_out(lambda: self.search.name(str(self.fault.value)))
        self.compare.disabled = False

    def say(self, words: str) -> None:
        """Show ``words``, line by line."""
        lines = "".join(f"<div style='white-space:pre-wrap'>{escape(line)}</div>" for line in words.splitlines())
        self.says.value = message_box(lines, spoken=True)

    def judge(self) -> None:
        """Say how the job stands; from then on it can be asked what was wrong."""
        self.say(checked(self.call, self.bench, self.names))
        self.tell.disabled = False


def dealt_machine_call(number: int) -> Dealt:
    """Return the machine call ``number`` as a stand shows it.

    Raises
    ------
    MachineCallError
        If there is no such call.
    """
    call = machine_call_of(number)
    words = f"Call {number} on another dryer. The customer says: “{call.words}”"
    head = f"<div style='font-size:1.1em;padding:0.4em 0'><b>{escape(words)}</b></div>"
    return Dealt(
        words,
        head,
        lambda: Bench(call.machine, call.faults),
        lambda bench: MachineCallPad(call, bench).view,
        named=False,
    )


def machine_call(number: int = 1) -> None:
    """Show calls on machines not seen before, from ``number`` on: the complaint, the machine, a check at the end.

    Raises
    ------
    MachineCallError
        If there is no such call.
    """
    show_series(Series(dealt_machine_call, "machine-call"), number)
