"""Pictures of every machine, to be looked at: ``LEGTOLEG_PICTURES=folder pytest -m pictures`` on this folder."""

import os
import re
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from dryerbench.family.own_machine import OwnMachine
from dryerbench.family.settings import read_setting
from dryerbench.machine_view.close_up import close_up
from dryerbench.machine_view.meter_face import MODES, UPRIGHT, WIDE, Face, meter_svg
from dryerbench.machine_view.palette import DARK, LIGHT
from dryerbench.machine_view.scene import SIDES, Scene
from dryerbench.machine_view.spots import views
from dryerbench.machine_view.whole_machine import machine_drawing
from dryerbench.machine_view.wiring_sheet import sheet_svg

from .looks import NAMES, own, sheet

pytestmark = [
    pytest.mark.pictures,
    pytest.mark.skipif("LEGTOLEG_PICTURES" not in os.environ, reason="no folder LEGTOLEG_PICTURES is named"),
    pytest.mark.skipif(shutil.which("chromium") is None, reason="there is no chromium"),
]
GAP = 6


def picture(name: str, svgs: list[str], columns: int, scale: float, style: str = "") -> Path:
    """Write the drawings side by side as one PNG and return its path."""
    sizes = [tuple(map(float, re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg).groups())) for svg in svgs]
    wide, high = max(w for w, _ in sizes) * scale + GAP, max(h for _, h in sizes) * scale + GAP
    cells = "".join(
        re.sub(
            r' width="[\d.]+" height="[\d.]+" font-family',
            f' width="{w * scale}" height="{h * scale}" font-family',
            svg,
            count=1,
        )
        for svg, (w, h) in zip(svgs, sizes, strict=True)
    )
    rows = -(-len(svgs) // columns)
    grid = f"margin:0;background:#999;display:grid;grid-auto-rows:{high}px;{style}"
    grid += f";grid-template-columns:repeat({columns},{wide}px)"
    folder = Path(os.environ["LEGTOLEG_PICTURES"])
    folder.mkdir(parents=True, exist_ok=True)
    page, shot = folder / f"{name}.html", folder / f"{name}.png"
    page.write_text(f'<meta charset="utf-8"><body style="{grid}">{cells}', encoding="utf-8")
    size = f"--window-size={int(wide * columns)},{int(high * rows)}"
    command = [
        "chromium",
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--hide-scrollbars",
        size,
        f"--screenshot={shot}",
        str(page),
    ]
    subprocess.run(command, check=True, timeout=120, capture_output=True)
    page.unlink()
    return shot


def scenes(machine: OwnMachine) -> list[Scene]:
    everything = tuple(cover.name for cover in machine.covers)
    shut = [Scene(side=side) for side in SIDES]
    dead = Scene(covers_off=everything, plugged=False, breaker_on=False, locked=True)
    return [*shut, *(replace(dead, side=side) for side in SIDES)]


@pytest.mark.parametrize("name", NAMES)
def test_whole_machine_covers_on_and_off(name: str) -> None:
    machine = sheet(name)
    assert (
        picture(f"whole-{name}", [machine_drawing(machine, scene).svg() for scene in scenes(machine)], 2, 0.9)
        .stat()
        .st_size
    )


@pytest.mark.parametrize("name", NAMES)
def test_close_ups(name: str) -> None:
    machine = sheet(name)
    scene = replace(scenes(machine)[2], named=True)
    assert (
        picture(f"close-{name}", [close_up(machine, view, scene).svg() for view in views(machine)], 3, 0.8)
        .stat()
        .st_size
    )


def test_machines_of_ones_own() -> None:
    drawn = []
    for name in NAMES:
        machine = own(name, 3)
        drawn.append(close_up(machine, "box-1", scenes(machine)[2]).svg())
    assert picture("own", drawn, 4, 0.7).stat().st_size


@pytest.mark.parametrize("theme", ["light", "dark", "grey"])
def test_states_and_themes(theme: str) -> None:
    machine = sheet("schoolroom")
    palette = DARK if theme == "dark" else LIGHT
    base = scenes(machine)[3]
    tags = {"Box.p": "1", "Box.r": "2", "Cut.1": "in"}
    told = replace(base, pulled=frozenset({"wire Box.q-Cen.1"}), tags=tags, burnt=frozenset({"Box.s"}))
    told = replace(told, probes=("Box.q", "Box.p"), chosen="Box.q")
    hot = replace(
        base,
        hot=frozenset({"box-1", "blower"}),
        glowing=frozenset({"box-1"}),
        out_of_reach=frozenset({"blower"}),
        chosen="box-1",
    )
    drawn = [machine_drawing(machine, one).svg(palette) for one in (scenes(machine)[0], base, hot)]
    drawn += [close_up(machine, view, told).svg(palette) for view in ("box-1", "block", "wall")]
    drawn += [
        close_up(machine, "box-1", hot).svg(palette),
        sheet_svg(machine, read_setting("run high"), "run high", palette),
    ]
    drawn += [meter_svg(Face("ohms", "26.7", "Ω", "range 60 Ω", bar=0.44), palette=palette)]
    assert picture(f"states-{theme}", drawn, 3, 0.8, "filter:grayscale(1)" if theme == "grey" else "").stat().st_size


def test_meter_in_every_mode() -> None:
    faces = [
        Face(mode, "24.6" if mode != "off" else "", "", "range 60", bar=0.4, sounding=mode == "beep") for mode in MODES
    ]
    faces += [
        Face("ohms", "OL", "MΩ", "range 60 MΩ", bar=1.0, pressed=frozenset({"hold"})),
        Face("ohms", fuse_open=True),
    ]
    assert (
        picture("meter", [meter_svg(face, form) for form in (UPRIGHT, WIDE) for face in faces], 10, 0.6).stat().st_size
    )


def test_wiring_sheets() -> None:
    setting = read_setting("run high")
    assert picture("sheets", [sheet_svg(sheet(name), setting, "run high") for name in NAMES], 4, 0.7).stat().st_size
