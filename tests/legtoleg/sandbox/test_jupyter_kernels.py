"""Kernels for marking: an environment for a while, and a kernel that listens in one folder and nowhere else."""

from __future__ import annotations

import asyncio
import os
from contextlib import suppress

import pytest

from dryerbench.core import identity
from legtoleg.sandbox.jupyter_kernels import JailedKernelManager, environment, marking_environment


def test_an_environment_is_put_back(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ONE_OF_OURS", "before")
    monkeypatch.delenv("ANOTHER_OF_OURS", raising=False)
    values = {"ONE_OF_OURS": "now", "ANOTHER_OF_OURS": "now"}
    with suppress(ZeroDivisionError), environment(values):
        assert {name: os.environ[name] for name in values} == values
        raise ZeroDivisionError
    assert os.environ["ONE_OF_OURS"] == "before"
    assert "ANOTHER_OF_OURS" not in os.environ


def test_a_jailed_kernel_has_no_port_and_the_right_machine() -> None:
    manager = JailedKernelManager()
    with environment(marking_environment("ada-01")):
        command = manager.format_kernel_cmd()
    assert manager.transport == "ipc"
    assert manager.ip.startswith(str(manager.shared))
    assert command[0] == "bwrap"
    assert command[command.index(identity.VARIABLE) + 1] == "ada-01"
    assert manager.kernel_spec.interrupt_mode == "message"
    asyncio.run(manager._async_cleanup_resources())
    assert not manager.shared.exists()
