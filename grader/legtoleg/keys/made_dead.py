"""The reference answers of lesson 01, made dead."""

from __future__ import annotations

from dryerbench.bench.bench import Bench
from dryerbench.bench.situation import TOUCH_VOLTS
from dryerbench.core.tables import table
from dryerbench.course.bench_card import open_bench
from dryerbench.electricity.shock import body_milliamps
from dryerbench.topics.made_dead.sheet import JOBS, KITS, LESSON, MadeDeadCard
from legtoleg.keys.reference import Before, ChoiceReference, Goal, OrderReference, Reference, ReferenceOf, WorkReference

__all__ = ["LESSON", "REFERENCES"]

SOUND_KITS = frozenset({"iii-600", "iii-1000", "iv-600"})
"""The meters with leads that may be used on a dryer's circuit."""
LICENSED = frozenset({"burnt", "trips", "three-wires", "flicker"})
"""The jobs for a licensed electrician."""

_KIT_SLIPS = {"low-meter": "category_too_low", "low-leads": "category_too_low", "unmarked": "no_category"}


def _effect(card: MadeDeadCard) -> frozenset[str]:
    milliamps = body_milliamps(card.leg_volts, card.person_ohms)
    reached = [found for found in table("shock-effects").numbers("milliamps") if found <= milliamps]
    return frozenset({f"{max(reached, default=0):g}"})


def _worse_than_it_is(card: MadeDeadCard) -> frozenset[str]:
    """Return the rows above what flows: whoever takes a shock for worse than it is stays away from it."""
    (reached,) = _effect(card)
    return frozenset(key for key in _effect_slips() if float(key) > float(reached))


def _effect_slips() -> dict[str, str]:
    keys = ["0", *(f"{number:g}" for number in table("shock-effects").numbers("milliamps"))]
    return {key: "underrated_shock" if key == "0" else "other_row" for key in keys}


def _verdict(card: MadeDeadCard) -> frozenset[str]:
    if max(card.tested) > TOUCH_VOLTS:
        return frozenset({"live"})
    proved = min(card.source_before, card.source_after) > TOUCH_VOLTS
    return frozenset({"dead" if proved else "unproved"})


def _tested_outside(bench: Bench) -> bool:
    """Return whether dead was tested before the cover came off."""
    acts = [act["act"] for act in bench.trail if act["act"] in ("test_dead", "cover_off")]
    return acts[:1] == ["test_dead"]


def _tested_inside(bench: Bench) -> bool:
    """Return whether dead was tested at the terminal block."""
    return any(act["act"] == "test_dead" and act["with"].get("where") == "block" for act in bench.trail)


def _proved_last(bench: Bench) -> bool:
    """Return whether the meter was proved after the last test for dead."""
    acts = [act["act"] for act in bench.trail if act["act"] in ("prove_meter", "test_dead")]
    return acts[-1:] == ["prove_meter"]


_FIRST_AID = {
    "awake": "doctor",
    "block": "cut",
    "both": "cut",
    "gasping": "cpr",
    "laughing": "doctor",
    "plug": "cut",
    "still": "cpr",
}
"""What comes first, by how somebody is found (common practice, from memory of first-aid courses)."""


def _first_aid_slips(card: MadeDeadCard) -> dict[str, str]:
    stuck, still = (_FIRST_AID[card.shocked] == what for what in ("cut", "cpr"))
    return {
        "away": "help_came_late",
        "cpr": "touched_the_shocked" if stuck else "awake_or_not",
        "cut": "power_was_off",
        "doctor": "touched_the_shocked" if stuck else "awake_or_not",
        "pull": "touched_the_shocked" if stuck else "power_was_off",
        "rest": "help_came_late" if stuck or still else "shock_made_light",
    }


_ORDER = (
    Before("tell", "isolate", "nobody_told"),
    Before("stop", "isolate", "cut_under_load"),
    Before("isolate", "lock", "tested_before_isolated", unsafe=True),
    Before("isolate", "test", "tested_before_isolated", unsafe=True),
    Before("lock", "test", "tested_before_isolated", unsafe=True),
    Before("prove", "test", "meter_unproved", unsafe=True),
    Before("test", "prove-again", "zero_not_confirmed", unsafe=True),
    Before("prove-again", "cover", "zero_not_confirmed", unsafe=True),
    Before("test", "cover", "opened_before_dead", unsafe=True),
    Before("stop", "rest", "not_at_rest", unsafe=True),
    Before("rest", "cover", "not_at_rest", unsafe=True),
)
"""The order of 29 CFR 1910.147(d), read at second hand; the meter proved on both sides of the test by NFPA 70E."""

REFERENCES: tuple[ReferenceOf[MadeDeadCard], ...] = (
    Reference("body_current", "shock_current", lambda card, _: {"volts": card.leg_volts, "ohms": card.person_ohms}),
    ChoiceReference("body_effect", _effect, _effect_slips(), harmless=_worse_than_it_is),
    Reference(
        "bonded_case_volts",
        "bonded_case",
        lambda card, _: {"amps": card.fault_amps, "ohms": card.bond_ohms, "leg_volts": card.leg_volts},
    ),
    Reference(
        "bonded_body_current",
        "touch_current",
        lambda card, own: {
            "touch_volts": own["bonded_case_volts"],
            "ohms": card.person_ohms,
            "leg_volts": card.leg_volts,
        },
    ),
    ChoiceReference(
        "fit_kits",
        lambda card: frozenset(card.kits) & SOUND_KITS,
        dict.fromkeys(SOUND_KITS, "sound_kit_left_out")
        | dict.fromkeys(set(KITS) - SOUND_KITS, "damaged_kit")
        | _KIT_SLIPS,
        harmless=lambda _: SOUND_KITS,
    ),
    OrderReference("dead_order", _ORDER),
    ChoiceReference(
        "test_verdict",
        _verdict,
        {"dead": "believed_a_zero", "stray": "believed_a_zero", "live": "called_live", "unproved": "proof_was_good"},
        harmless=lambda card: frozenset({"live", "unproved"} if _verdict(card) == {"dead"} else {"live"}),
    ),
    ChoiceReference(
        "hand_over",
        lambda card: frozenset(card.jobs) & LICENSED,
        dict.fromkeys(LICENSED, "kept_a_licensed_job") | dict.fromkeys(set(JOBS) - LICENSED, "gave_a_job_away"),
        harmless=lambda _: frozenset(JOBS) - LICENSED,
    ),
    ChoiceReference("first_aid", lambda card: frozenset({_FIRST_AID[card.shocked]}), _first_aid_slips),
    WorkReference(
        "make_dead",
        open_bench,
        (
            Goal(lambda bench: not bench.state.plugged, "plug_left_in"),
            Goal(lambda bench: not bench.state.breaker_on and bench.locked, "breaker_not_locked"),
            Goal(_tested_outside, "opened_before_dead"),
            Goal(_tested_inside, "block_not_tested"),
            Goal(_proved_last, "zero_not_confirmed", shown_by=_tested_inside),
        ),
    ),
)
"""In the order in which they build on one another."""
