from __future__ import annotations

from collections.abc import Callable

import pytest

from dryerbench.core.errors import LegToLegError
from dryerbench.registry import DRILLS, PRACTICE_BENCHES, SHEETS, bench_to_practice, drill, sheet


@pytest.mark.parametrize(
    ("find", "there", "what"),
    [
        (sheet, SHEETS, "lesson"),
        (drill, DRILLS, "practice called"),
        (bench_to_practice, PRACTICE_BENCHES, "practice bench called"),
    ],
)
def test_what_is_found_by_name_is_found_and_what_is_not_says_what_there_is(
    find: Callable[[str], object], there: dict[str, object], what: str
) -> None:
    for name, one in there.items():
        assert find(name) is one
    with pytest.raises(LegToLegError) as said:
        find("x" * 500)
    words = str(said.value)
    assert words.startswith(f"There is no {what} 'xxx")
    assert words.endswith(f"there are: {', '.join(there)}.")
    assert "x" * 81 not in words
