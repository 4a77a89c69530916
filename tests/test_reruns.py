"""Another try is for browsers and servers alone: a race in marking, collecting or recording must show at once."""

from __future__ import annotations

from pathlib import Path

import pytest

pytest_plugins = ["pytester"]

MARKS = {"browser", "server"}
OF_A_BROWSER = {"chromium", "browser", "page", "lab"}
OF_A_SERVER = {"serve", "scheduler", "server"}
"""Fixtures that start somebody else's program."""


def marks(item: pytest.Item) -> set[str]:
    return {mark.name for mark in item.iter_markers()}


def test_only_tests_of_browsers_and_servers_are_run_again(request: pytest.FixtureRequest) -> None:
    for item in request.session.items:
        assert ("flaky" in marks(item)) == bool(MARKS & marks(item)), item.nodeid


def test_who_starts_a_browser_or_a_server_says_so(request: pytest.FixtureRequest) -> None:
    for item in request.session.items:
        used = set(getattr(item, "fixturenames", ()))
        assert "browser" in marks(item) or not used & OF_A_BROWSER, item.nodeid
        assert MARKS & marks(item) or not used & OF_A_SERVER, item.nodeid


def test_another_try_is_given_and_taken(pytester: pytest.Pytester) -> None:
    pytester.makeconftest(Path(__file__).with_name("conftest.py").read_text(encoding="utf-8"))
    pytester.makeini("[pytest]\nmarkers =\n  browser: b\n  server: s\n  slow: s\n  jail: j\n")
    pytester.makepyfile(
        """
        import pytest
        tries = []

        @pytest.mark.slow
        @pytest.mark.parametrize("what", [
            "marking",
            pytest.param("browser", marks=pytest.mark.browser),
            pytest.param("server", marks=pytest.mark.server),
            pytest.param("jail", marks=pytest.mark.jail),
        ])
        def test_fails_at_first(what):
            tries.append(what)
            assert tries.count(what) > 2
        """
    )
    done = pytester.runpytest_inprocess("-p", "no:randomly", "-p", "no:xdist")
    assert {key: count for key, count in done.parseoutcomes().items() if key != "warnings"} == {
        "passed": 2,
        "failed": 2,
        "rerun": 4,
    }
