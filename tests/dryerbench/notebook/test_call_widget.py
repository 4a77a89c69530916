"""Practice calls in a notebook: complaint, bench, hint, name, paths; prices as a table."""

from __future__ import annotations

import pytest

from dryerbench.bench.access import part_prices, replaceable
from dryerbench.bench.shop_names import shop_name
from dryerbench.bench.worksite import faults_on
from dryerbench.core.sealed import unsealed
from dryerbench.core.tables import table
from dryerbench.course.bench_card import CardError, machine_of
from dryerbench.diagnosis.service_calls import CallError, deal_call
from dryerbench.drawing.interactive_figure import MODE
from dryerbench.notebook import bench_display, call_widget, practice_stand
from dryerbench.notebook.call_widget import CallPad, compare_paths, practice_call, price_list
from dryerbench.registry import sheet


@pytest.fixture
def shown(monkeypatch: pytest.MonkeyPatch) -> list[dict]:
    found: list[dict] = []
    monkeypatch.setattr(call_widget, "show_bundle", found.append)
    monkeypatch.setattr(practice_stand, "show_bundle", found.append)
    monkeypatch.setattr(bench_display, "show_bundle", found.append)
    return found


def test_a_call_in_words(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(MODE, "words")
    practice_call(4)
    assert len(shown) == 2
    assert shown[0]["text/plain"].startswith("Call 4. The customer says: “")
    assert shown[1]["text/plain"].startswith("The bench.")
    fault = faults_on(deal_call(4).bench)[0].name
    assert fault not in str(shown)


def test_a_call_live_has_panel_and_pad(shown: list[dict], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(MODE, "live")
    practice_call(4)
    (one,) = shown
    assert one["text/plain"].startswith("Call 4. The customer says: “")
    assert {"application/vnd.jupyter.widget-view+json", "image/svg+xml"} <= set(one)


def test_the_pad_hints_names_and_then_compares() -> None:
    pad = CallPad(next(call for n in range(1, 60) if len(faults_on((call := deal_call(n)).bench)) == 1))
    assert pad.compare.disabled
    pad.hint.click()
    assert "Hint 1" in pad.says.value
    pad.fault.value = faults_on(pad.call.bench)[0].name
    pad.name.click()
    assert "Right, " in pad.says.value
    assert not pad.compare.disabled
    pad.compare.click()
    assert "Your path: 0 readings" in pad.says.value
    unsealed(pad.call.bench.sealed).faults = ()
    pad.compare.click()
    assert "Nothing is wrong" in pad.says.value


def test_paths_of_a_marked_machine_are_refused_in_one_line() -> None:
    from dryerbench.registry import sheet

    card = sheet("10_call_to_close").card("demo-01")
    from dryerbench.course.bench_card import open_bench

    with pytest.raises(CallError, match="after it is graded"):
        compare_paths(open_bench(card))


def test_the_price_list_has_every_part_and_says_that_it_is_invented(shown: list[dict]) -> None:
    price_list()
    for kind in ("text/plain", "text/html"):
        assert "invented" in shown[0][kind]
        for row in table("faults").rows:
            ours = row["parts_cost"] > 0 and row["who"] != "electrician"
            assert not ours or shop_name(row.text("part")) in shown[0][kind]
        assert not any(wiring in shown[0][kind] for wiring in ("breaker", "run N", shop_name("run N")))


def test_the_price_list_of_a_call_has_the_parts_of_its_dryer_and_no_wiring_of_the_house(shown: list[dict]) -> None:
    card = sheet("10_call_to_close").card("demo-01")
    price_list(card, 2)
    machine = machine_of(card, 2)  # type: ignore[arg-type]
    text = shown[0]["text/plain"]
    for part, (minutes, dollars) in part_prices(machine).items():
        line = next(
            (line for line in text.splitlines() if line.split("$")[0].split(" (")[0].strip() == shop_name(part)), ""
        )
        assert bool(line) != replaceable(machine)[part][1], part
        assert not line or line.endswith(f"${dollars:g}  {minutes:g} min")
    with pytest.raises(CallError, match="price_list\\(card, 2\\)"):
        price_list(sheet("01_made_dead").card("demo-01"))
    with pytest.raises(CardError, match="1, 2 and 3"):
        price_list(card, 5)
