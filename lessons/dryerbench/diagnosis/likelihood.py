"""How likely a reading is under a prediction, and how much it is expected to settle, in bits."""

from __future__ import annotations

import math
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from dryerbench.diagnosis.candidates import LOOK, Numbers

Floats: TypeAlias = NDArray[np.floating]
AS_GOOD = 1e-3  # of readings as good as each other the menu's first: a rate's last digits differ between processors
_UNFORESEEN = 1e-3
_SPANS = {
    "ohms": 8.0,
    "continuity": 3.0,
    "insulation": 10.0,
    "clamp": 60.0,
    "temperature": 300.0,
    "leakage": 6.0,
    LOOK: 1.0,
}
_OUTCOMES = 64  # the likeliest bins stand for all outcomes of a reading


def density(y: Numbers, low: Numbers, high: Numbers, spread: Numbers, span: float) -> Numbers:
    """Return the density of readings ``y`` for predictions between ``low`` and ``high``, blurred by ``spread``.

    All four broadcast. Half of the weight lies evenly between the ends, with density
    (Φ((y - low)/σ) - Φ((y - high)/σ))/(high - low), and half at the ends: a strength that moves a switch makes a
    reading jump from one end to the other.
    """
    width = np.maximum(high - low, 0.05 * spread)
    middle = 0.5 * (low + high)
    low, high = middle - 0.5 * width, middle + 0.5 * width
    inside = (_phi((y - low) / spread) - _phi((y - high) / spread)) / width
    jump = 0.5 * (_bell((y - low) / spread) + _bell((y - high) / spread)) / spread
    even = np.maximum(inside, 0.0)
    answer: Numbers = (1.0 - _UNFORESEEN) * 0.5 * (even + jump) + _UNFORESEEN / span
    return answer


def _bell(x: Numbers) -> Numbers:
    answer: Numbers = np.exp(-0.5 * np.minimum(x * x, 80.0)) / math.sqrt(math.tau)
    return answer


def _phi(x: Numbers) -> Numbers:
    """Return the normal distribution's Φ by the logistic-like tanh form of its error function (to 3e-4)."""
    clipped = np.clip(x, -9.0, 9.0)
    answer: Numbers = 0.5 * (1.0 + np.tanh(math.sqrt(2.0 / math.pi) * (clipped + 0.044715 * clipped**3)))
    return answer


def likeliest(weights: Floats) -> NDArray[np.intp]:
    """Return the places of the ``_OUTCOMES`` greatest ``weights``, and of those that equal the least of them."""
    least = np.sort(weights)[-_OUTCOMES:][0]
    answer: NDArray[np.intp] = np.flatnonzero(weights >= (1.0 - AS_GOOD) * least)
    return answer


def span_of(mode: str) -> float:
    """Return how far apart readings of ``mode`` may lie, in its scaled unit."""
    return _SPANS.get(mode, 250.0)


def entropy(shares: Numbers) -> Numbers:
    """Return the entropy in bits of shares down the first axis."""
    safe = np.where(shares > 0, shares, 1.0)
    answer: Numbers = -(shares * np.log2(safe)).sum(axis=0)
    return answer


def expected_entropy(densities: Floats, weights: Floats, member: Floats, seen: NDArray[np.intp]) -> Numbers:
    """Return the entropy between faults left on average (acts,); the middles of the bins ``seen`` are the outcomes.

    ``densities`` (acts, candidates, outcomes), ``weights`` (candidates,), ``member`` (faults, candidates).
    """
    joint = weights[:, None] * densities
    after = member @ joint / joint.sum(axis=1)[:, None, :]
    entropy = -(after * np.log2(np.maximum(after, 1e-30))).sum(axis=1)
    answer: Numbers = entropy @ (weights[seen] / weights[seen].sum())
    return answer
