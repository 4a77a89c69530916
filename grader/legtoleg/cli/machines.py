"""``legtoleg dryers``: the machines of the family, or the tech sheet and the faults of one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

import typer

from legtoleg.cli.terminal import say_text


def machine_lines() -> Iterator[str]:
    """Yield a line for each machine: its name, what it is, supply, cord, service side, and the number of its faults."""
    from dryerbench.family.faults import faults_of
    from dryerbench.family.shelf import arrangement, machine_names

    for name in machine_names():
        made = arrangement(name)
        facts = f"{made.made_for} V, {made.cord}, service {made.service}, {len(faults_of(made))} faults"
        yield f"{name:<11} {made.idea} ({facts})"


def machines(
    name: Annotated[str | None, typer.Argument(help="A dryer, such as cellar: its tech sheet and faults.")] = None,
) -> None:
    """List the dryers of the family, or print the tech sheet of one."""
    from dryerbench.family.faults import faults_of
    from dryerbench.family.shelf import arrangement
    from dryerbench.family.tech_sheet import sheet_lines

    if name is None:
        say_text("\n".join([*machine_lines(), ""]))
        return
    made = arrangement(name)
    lines = [*sheet_lines(made), "", "Faults, as --fault takes them:", *(f"  {fault}" for fault in faults_of(made))]
    say_text("\n".join([*lines, ""]))
