"""Glasses, cap, meter, discharge, splitter: what each needs and what it is good for."""

from __future__ import annotations

import pytest

from dryerbench.bench.bench import Bench
from dryerbench.bench.worksite import BenchError


def test_gloves_bring_glasses_along() -> None:
    bench = Bench()
    bench.do("gear_on")
    assert bench.glasses
    bench.do("glasses_off")
    assert (bench.gear, bench.glasses) == (True, False)
    bench.do("glasses_on")
    bench.do("gear_off")
    assert (bench.gear, bench.glasses) == (False, False)


def test_a_capped_plug_stays_out() -> None:
    bench = Bench()
    with pytest.raises(BenchError, match="Pull it before you cap it"):
        bench.do("cap_plug")
    bench.do("unplug")
    bench.do("cap_plug")
    with pytest.raises(BenchError, match="cap with lock and tag"):
        bench.do("plug_in")
    bench.do("uncap_plug")
    bench.do("plug_in")
    assert bench.powered
    with pytest.raises(BenchError, match="no cap"):
        bench.do("uncap_plug")


def test_a_meter_is_one_of_those_that_the_shop_has() -> None:
    bench = Bench()
    assert "CAT IV 600 V" in bench.do("take_meter", rating="CAT IV 600 V")["happened"][0]
    with pytest.raises(BenchError, match="not 'CAT V'"):
        bench.do("take_meter", rating="CAT V")


@pytest.mark.parametrize(("rating", "low"), [("CAT III 600 V", False), ("CAT IV 600 V", False), ("CAT II 600 V", True),
                                             ("no category", True)])  # fmt: skip
def test_a_category_matters_on_a_live_circuit_alone(rating: str, low: bool) -> None:
    bench = Bench()
    for act in ("gear_on", "unplug"):
        bench.do(act)
    bench.do("take_meter", rating=rating)
    bench.ohms("plug-1", "plug-2")
    assert not any(one.name == "category-too-low" for one in bench.findings)
    bench.volts("outlet-1", "outlet-2")
    assert any(one.name == "category-too-low" for one in bench.findings) is low


def test_a_charge_stays_until_it_is_let_out() -> None:
    bench = Bench()
    for act in ("unplug", "cover_off"):
        bench.do(act)
    assert bench.do("discharge")["happened"] == ["nothing to discharge"]
    bench.insulation("T0", "case")
    assert bench.charged
    bench.do("cool_down")
    assert bench.charged
    assert bench.do("discharge")["happened"] == ["discharged"]
    assert not bench.charged


def test_a_splitter_gives_volts_and_amps_under_load_with_the_cover_on() -> None:
    bench = Bench()
    with pytest.raises(BenchError, match="Pull the plug first"):
        bench.do("fit_splitter")
    for act in ("unplug", "fit_splitter", "plug_in"):
        bench.do(act)
    idle = bench.volts("outlet-1", "outlet-2").value or 0.0
    bench.do("ask_heat")
    bench.do("press_start")
    loaded = bench.volts("outlet-1", "outlet-2").value or 0.0
    assert 1.0 < idle - loaded < 8.0
    assert bench.clamp("cord 2").value == pytest.approx(26.0, abs=1.5)
    with pytest.raises(BenchError, match="splitter"):
        bench.clamp("wire T0")
    with pytest.raises(BenchError, match="Pull it first"):
        bench.do("remove_splitter")
    for act in ("stop", "unplug", "remove_splitter"):
        bench.do(act)
    assert bench.findings == []
    with pytest.raises(BenchError, match="no line splitter"):
        bench.do("remove_splitter")
