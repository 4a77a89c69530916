"""Item analysis: how hard a question was, how well it tells people apart, how far a lesson's marks can be trusted.

Difficulty and discrimination are those of classical test theory (Allen and Yen, Introduction to Measurement Theory,
1979, chapter 6, from memory). Reliability is Cronbach's alpha (Cronbach, Psychometrika 16, 1951), which for questions
that are right or wrong is Kuder and Richardson's formula 20 (Psychometrika 2, 1937).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

Shares = pd.DataFrame
"""People down, questions across; each cell the share of the question's points, 0 to 1, NaN if there is none."""

FEW = 30
"""Below so many people these numbers swing from cohort to cohort (common practice, no published source)."""


@dataclass(frozen=True)
class ItemStatistics:
    """One question: ``difficulty`` is the mean share of its points (1 is easy); ``discrimination`` is -1 to 1."""

    difficulty: float
    discrimination: float | None
    """Correlation of the question with the sum of the others (corrected item-total); None if it cannot be had."""


def difficulty(shares: Shares) -> list[float]:
    """Return each question's mean share of its points, 0 to 1."""
    return [float(mean) for mean in shares.mean()]


def discrimination(shares: Shares) -> list[float | None]:
    """Return each question's correlation with the sum of all others, -1 to 1; None where one of them never varies."""
    whole = shares.dropna()
    others = whole.rsub(whole.sum(axis=1), axis=0)
    varies = (whole.std(ddof=0) > 1e-12) & (others.std(ddof=0) > 1e-12) & (len(whole) > 2)
    found = whole.loc[:, varies].corrwith(others.loc[:, varies]).reindex(shares.columns)
    return [None if pd.isna(one) else float(one) for one in found]


def cronbach_alpha(shares: Shares) -> float | None:
    r"""Return Cronbach's alpha of a lesson; None with one question, or where nobody differs.

    .. math:: \alpha = \frac{k}{k-1} \left(1 - \frac{\sum_i c_{ii}}{\sum_{ij} c_{ij}}\right)

    with the covariances of the k questions, each over the people who have both answers.
    """
    count = shares.shape[1]
    if count < 2 or len(shares) < 2:
        return None
    covariances = shares.cov().to_numpy()
    total = covariances.sum()
    if not total > 1e-12:
        return None
    return float(count / (count - 1) * (1 - np.trace(covariances) / total))


def kr20(right: Shares) -> float | None:
    r"""Return Kuder and Richardson's formula 20 for questions that are right (1) or wrong (0); None as for alpha.

    .. math:: r = \frac{k}{k-1} \left(1 - \frac{\sum_i p_i (1 - p_i)}{\sigma_t^2}\right)

    with population variances, as published.
    """
    rows = right.dropna()
    count = right.shape[1]
    if count < 2 or len(rows) < 2:
        return None
    total = rows.sum(axis=1).var(ddof=0)
    if total < 1e-12:
        return None
    share = rows.mean()
    return float(count / (count - 1) * (1 - (share * (1 - share)).sum() / total))


def items(shares: Shares) -> list[ItemStatistics]:
    """Return the analysis of each question."""
    return [ItemStatistics(*pair) for pair in zip(difficulty(shares), discrimination(shares), strict=True)]
