"""What was found wrong on the first bench, what the bench does today, and the test that holds it.

By a technician and a safety officer. ``HAZARDS``: safety, one row of ``hazard_cases`` each, walked on the lessons'
dryer and on other machines. ``ROWS``: all else. Figures are those of the lessons' dryer (``Machine()``) unless a
machine is named. A row whose test has gone fails here; whether it is true is for the test that it names.
"""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest

from dryerbench.bench.acts import ACTS
from dryerbench.family.faults import faults_of
from dryerbench.family.shelf import arrangement, machine_names

from .hazard_cases import CASES

TESTS = Path(__file__).parents[2]
HAZARDS = (
    # what passed without a word, and is found now
    ("open, live and bare-handed", "gloves off in an open, live machine, then run"),
    ("ohms with both tips at one potential", "ohms T1 to T0, tips at one potential, machine energized"),
    ("ohms at the sensor of a live machine", "ohms S1 to S2, machine energized"),
    ("insulation on a live machine", "insulation T0 to case, machine energized"),
    ("ohms at a live receptacle, no gloves", "ohms N to ground at a live receptacle, bare-handed"),
    ("breaker reset three times on a short", "breaker reset three times on a short"),
    ("ten minutes of heat on a ground fault", "ten minutes of heat on a ground fault"),
    ("power after a repair, nothing read", "power after a repair, neither case nor bond read"),
    ("power after a repair, bond not read", "power after a repair, the bond not read"),
    ("power after a repair, case not read", "power after a repair, the case not read"),
    ("missing bond read, then powered", "missing bond read, then powered"),
    ("wrong strap read, then powered", "strap read on a four-wire cord, then powered"),
    ("hands in with no test at the block", "hands in with no test at the block"),
    ("charge of an insulation test left", "charge of an insulation test not let out"),
    ("insulation test through the board", "insulation test with the board still wired"),
    ("case at 120 V worked on", "case at 120 V worked on"),
    ("job ended open and plugged", "job ended open and plugged in"),
    ("job ended with wires off", "job ended with a wire off"),
    ("a wrong meter category could not occur", "live reading with a meter of CAT II"),
    ("20 kΩ without the bond: 5.6 mA, nothing said", "20 kΩ leak without the bond, powered again"),
    ("a path that was read, then powered", "power on a path that was read"),
    ("a zero of a meter whose fuse is gone", "a zero of a meter whose fuse is gone"),
    # what was blamed though safe, and passes now
    ("20 kΩ with the bond on: 0.12 mA, blamed", "20 kΩ leak with the bond on, powered again"),
    ("vent replaced with the plug out, blamed", "vent replaced with the plug out"),
    ("extension cord replaced with the plug out, blamed", "extension cord replaced with the plug out"),
    ("lock-out of a breaker with the plug in, blamed",
     "breaker locked with the plug in, gloves until the block is tested"),
)  # fmt: skip
"""What was found, and the title of the case in ``hazard_cases``."""

BENCH, AIR, FAMILY = "dryerbench/bench/", "dryerbench/air/", "dryerbench/family/"
ODDS, PAGE, PUBLISHED = "dryerbench/diagnosis/", "dryerbench/notebook/", "published/"
ROWS = (
    ("after the fuse blows volts still read 238.9 V", "neither lead reads anything",
     BENCH + "test_meter.py",
     "test_a_blown_fuse_cuts_the_tips_off_every_setting"),
    ("an act is judged, not the state it leaves", "every three acts from many states are walked",
     BENCH + "test_safety_walk.py",
     "test_every_three_acts_from_many_states"),
    ("a hint advises insulation with the board wired", "not in the menu",
     ODDS + "test_candidates.py",
     "test_no_insulation_test_is_advised_while_the_board_is_connected"),
    ("exhaust 45 °C whatever the watts", "134 °F sound, 120 at 208 V, 115 and 95 with one and two open, after 10 min",
     BENCH + "test_heat.py",
     "test_the_exhaust_follows_the_watts"),
    ("80 minutes never cycle", "18 openings of the thermostat, none of the limit",
     BENCH + "test_heat.py",
     "test_eighty_minutes_cycle_on_the_thermostat_alone"),
    ("a blocked vent jumps from 130 to 25 °C", "the limit opens 57 times an hour and closes by itself",
     BENCH + "test_heat.py",
     "test_a_blocked_vent_clicks_its_limit_off_and_on"),
    ("limit stuck and thermostat welded: the cut-off never blows", "it blows where the air is short",
     BENCH + "test_heat.py",
     "test_limit_stuck_and_thermostat_welded_heats_until_the_cut_off_blows_where_the_air_is_short"),
    ("a welded thermostat stops a cut-off that would blow", "it never does",
     BENCH + "test_heat.py",
     "test_limit_stuck_and_thermostat_welded_heats_until_the_cut_off_blows_where_the_air_is_short"),
    ("a dead machine shows 44.5 °C", "the room's 77 °F",
     BENCH + "test_heat.py",
     "test_a_dead_machine_stays_at_the_rooms_temperature"),
    ("cold air is no evidence", "it is, on every machine",
     ODDS + "test_evidence.py",
     "test_cold_air_is_evidence"),
    ("cold air is no evidence", "it is, on every machine",
     ODDS + "test_machine_evidence.py",
     "test_cold_air_and_what_is_seen_are_evidence"),
    ("a lesson says that a welded thermostat clicks the limit",
     "no click with a clean vent: 196 °F; the lesson says so",
     BENCH + "test_heat.py",
     "test_a_clean_vent_never_opens_the_limit_not_even_with_a_welded_thermostat"),
    ("of question 8's single causes none blew the cut-off", "the question asks what plays a part; each is tried",
     BENCH + "test_heat_effects.py",
     "test_what_plays_a_part_when_a_cut_off_blows"),
    ("half the air: 19.28 to 19.30 min, the text says otherwise",
     "37 min at full air, 38 at 150 cfm, 53 at 100: the limit costs the time, and lesson 08 says so",
     AIR + "test_cycle.py",
     "test_once_the_limit_cycles_a_little_less_air_costs_minutes"),
    ("less air: the text says less water is carried out", "hardly a minute until the limit opens",
     AIR + "test_cycle.py",
     "test_until_the_limit_opens_less_air_costs_hardly_a_minute"),
    ("sound loads dry in 18.5 to 20 min", "35 to 60",
     PUBLISHED + "test_air_and_drying.py",
     "test_a_household_load_takes_35_to_60_minutes"),
    ("sound loads dry in 18.5 to 20 min", "35 to 60 on every machine but one of 3 kW",
     FAMILY + "test_heat.py",
     "test_a_household_load_takes_35_to_60_minutes"),
    ("good air of 100 cfm at 6.4 kW is 272 °F by the lesson's formula", "150 cfm and more: 205 °F, below the limit",
     AIR + "test_cycle.py",
     "test_one_of_6_4_kilowatts_needs_150_cfm_and_100_are_enough_for_3"),
    ("cut-off blown and 50 kΩ to the case: safe to power", "not safe, and not the only fault",
     ODDS + "test_service_calls.py",
     "test_a_leak_beside_a_blown_cut_off_is_not_passed_over"),
    ("one fault is assumed", "a second fault is possible until a reading has cleared it",
     ODDS + "test_hypotheses.py",
     "test_what_was_not_read_stays_possible_beside_what_was_found"),
    ("one fault is assumed", "pairs that occur are candidates",
     ODDS + "test_machine_evidence.py",
     "test_two_faults_that_go_together_are_found_together"),
    ("a broken coil that touches the case is no candidate", "it is one on every machine, and read by hand",
     ODDS + "test_machine_evidence.py",
     "test_every_fault_and_every_pair_is_a_candidate"),
    ("one reading repeated: 0.69 to 0.989", "counts once, probes swapped or not",
     ODDS + "test_evidence.py",
     "test_a_reading_that_says_again_what_it_said_counts_once"),
    ("one reading repeated", "counts once, whatever else is off",
     ODDS + "test_machine_evidence.py",
     "test_a_reading_off_a_bench_counts_once_whatever_else_is_off_and_however_the_probes_are"),
    ("the house's other loads are known: right 2 of 16 with others",
     "unknown; 13 of 16, the rest draw the same from both legs",
     ODDS + "test_evidence.py",
     "test_what_the_house_draws_is_not_known"),
    ("practice calls with nothing to find", "none of 60",
     ODDS + "test_service_calls.py",
     "test_every_call_has_something_to_find_or_nothing_wrong"),
    ("compared paths do not hear the complaint", "they do",
     ODDS + "test_service_calls.py",
     "test_the_suggested_way_hears_the_customer"),
    ("the advised path for control-open takes 52 min", "25; 11 by the family's book",
     ODDS + "test_service_calls.py",
     "test_the_suggested_way_hears_the_customer"),
    ("halving beats the advice", "the quicker rule of each machine is followed",
     ODDS + "test_machine_evidence.py",
     "test_on_every_machine_the_rule_followed_is_the_quickest"),
    ("a later point of one conductor reads 1 to 5 V more", "one gain and offset for each range",
     BENCH + "test_meter.py",
     "test_a_later_point_of_one_conductor_never_reads_much_more"),
    ("the meter's gain error is drawn anew each time", "once for each meter and range",
     BENCH + "test_meter.py",
     "test_a_range_errs_alike_wherever_it_is_put"),
    ("one wiring with other numbers", "13 machines: one, two, three coils; dial, relay, two relays",
     FAMILY + "test_arrangement_file.py",
     "test_the_family_spans_what_the_trade_has"),
    ("who knows only 27 Ω calls 10 Ω shorted", "coils of 8.5 to 31 Ω, each on its machine's sheet",
     FAMILY + "test_tech_sheet.py",
     "test_a_sheet_names_every_part_coil_and_wire"),
    ("a relay read dead is taken for open", "0.3 Ω for a dial's contact, OL for a relay, on all machines",
     BENCH + "test_any_machine.py",
     "test_a_dials_contact_closes_by_hand_and_a_relay_is_open_without_power"),
    ("no wire of the motor can be pulled", "all can",
     BENCH + "test_motor_wires.py",
     "test_every_wire_of_the_motor_comes_off_and_goes_back"),
    ("no loose spade, no wiggle test", "reads right until its wire is moved",
     BENCH + "test_any_machine.py",
     "test_a_loose_spade_is_found_by_moving_its_wire"),
    ("no lead chafed through, no manual-reset limit, no belt switch and more", "all on some machine",
     BENCH + "test_the_findings.py",
     "test_what_was_missing_is_there"),
    ("no airflow at the hood", "read",
     BENCH + "test_gauges.py",
     "test_air_and_pressure_are_those_of_the_air_model"),
    ("no leakage in mA", "read",
     BENCH + "test_gauges.py",
     "test_leakage_goes_by_the_ground_and_is_read_with_the_ground_left_out"),
    ("no fault code, no test mode", "both, in words of our own",
     BENCH + "test_gauges.py",
     "test_the_control_stores_what_its_sensor_and_the_heat_do"),
    ("no volts under load, no cord for the clamp", "both through a line splitter",
     BENCH + "test_precautions.py",
     "test_a_splitter_gives_volts_and_amps_under_load_with_the_cover_on"),
    ("degrees are °C only", "°F; °C where the person asks for it",
     PAGE + "test_machine_panel.py",
     "test_parts_are_held_at_fahrenheit"),
    ("degrees are °C only", "°F in the paths and hints too",
     ODDS + "test_service_calls.py",
     "test_degrees_are_told_in_fahrenheit"),
    ("points are labelled T0 to T3", "no seat, mark or order tells the shared terminal on a drawn machine",
     FAMILY + "test_places.py",
     "test_no_seat_tells_the_shared_terminal"),
)  # fmt: skip
"""What was found, what the bench does today, and the test that holds it: its file below ``tests/``, its name."""

FAULTS = (
    "fuse-blown", "belt-switch-open", "overload-tripped", "lamp-out", "dial-motor-open", "manual-tripped",
    "lead-chafed", "coil-broken-touches", "spade-loose", "blower-slips", "strain-relief-missing", "board-dead",
    "heat-relay-open",
)  # fmt: skip


@cache
def functions(path: Path) -> frozenset[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return frozenset(node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef))


@pytest.mark.parametrize(("file", "name"), sorted({(file, name) for _, _, file, name in ROWS}))
def test_every_row_is_held_by_a_test_that_is_there(file: str, name: str) -> None:
    assert name in functions(TESTS / file)


def test_every_hazard_is_a_case_that_is_walked() -> None:
    titles = {one.title: one for one in CASES}
    assert [title for _, title in HAZARDS if title not in titles] == []
    blamed = [found for found, title in HAZARDS if not titles[title].found]
    assert len(blamed) == 4
    assert all(found.endswith("blamed") for found in blamed)


def test_what_was_missing_is_there() -> None:
    there = {fault.name for name in machine_names() for fault in faults_of(arrangement(name))}
    assert [name for name in FAULTS if name not in there] == []
    assert {"wiggle", "tap", "airflow", "pressure", "leakage", "stored_fault", "service_test", "fit_splitter"} <= set(
        ACTS
    )
