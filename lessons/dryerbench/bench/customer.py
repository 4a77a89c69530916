"""The job around the machine: phone the customer, order a part, leave."""

from __future__ import annotations

from dryerbench.bench.access import replaceable
from dryerbench.bench.shop_names import listed, shop_name
from dryerbench.bench.trail import Act
from dryerbench.bench.worksite import BenchError, Worksite, machine_on

TALKS = ("the price", "out of use", "how to use it")
"""What there is to say to a customer on the phone."""


def phone_customer(bench: Worksite, record: Act, about: str) -> None:
    """Phone the customer: for a yes to the price, to say that the machine is out of use, or how to use it."""
    if about not in TALKS:
        raise BenchError(f"You can say: {', '.join(TALKS)}; not '{about}'.")
    bench.told = True
    said = {
        "the price": "the customer says yes to the price",
        "out of use": "the customer knows not to run the dryer",
        "how to use it": "the customer knows to clean the lint screen after each load and to keep the vent clear",
    }
    record["happened"].append(said[about])


def order_part(bench: Worksite, record: Act, part: str) -> None:
    """Order a part and come again: until then the machine stays out of use."""
    parts = [name for name, (_, by_electrician) in replaceable(machine_on(bench)).items() if not by_electrician]
    if part not in parts:
        raise BenchError(f"'{shop_name(part)}' cannot be ordered; these can: {listed(parts)}.")
    agreed = any(act["act"] == "phone_customer" and act["with"].get("about") == "the price" for act in bench.trail)
    record["happened"].append("the part is ordered; the dryer stays out of use until it comes")
    if not agreed:
        record["happened"].append("no one has said yes to the price yet")


def leave(bench: Worksite, record: Act) -> None:
    """End the job: tools away, and off."""
    record["happened"].append("the job is done" if not bench.state.running else "the job is done; the dryer runs on")
