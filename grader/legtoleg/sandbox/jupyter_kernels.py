"""Kernels for marking: in the jail where there is one, by Jupyter's own way where there is none."""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from jupyter_client.kernelspec import KernelSpec
from jupyter_client.manager import AsyncKernelManager

from dryerbench.core import identity
from dryerbench.drawing import interactive_figure
from legtoleg.core.one_thread import ONE_THREAD
from legtoleg.sandbox.jail import jail_command


def marking_environment(apprentice: str, try_number: int = 1) -> dict[str, str]:
    """Return the environment of a notebook that is run to be marked: whose machine, which try, figures in words."""
    return {
        identity.VARIABLE: apprentice,
        identity.TRY_VARIABLE: str(try_number),
        interactive_figure.MODE: "words",
        "NBGRADER_EXECUTION": "autograde",
        **ONE_THREAD,
    }


@contextmanager
def environment(values: dict[str, str]) -> Iterator[None]:
    """Set environment variables for a while, and put back what was there."""
    before = {name: os.environ.get(name) for name in values}
    os.environ.update(values)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


class JailedKernelManager(AsyncKernelManager):  # type: ignore[misc]
    """Starts the kernel in the jail. It is spoken to through sockets in one shared folder; it has no network."""

    def __init__(self, **options: object) -> None:
        self.shared = Path(tempfile.mkdtemp(prefix="leg-to-leg-kernel-"))
        options["transport"] = "ipc"
        options["ip"] = str(self.shared / "socket")
        options["connection_file"] = str(self.shared / "connection.json")
        super().__init__(**options)

    @property
    def kernel_spec(self) -> KernelSpec:
        """The kernel of this Python, interrupted by message, since signals do not pass into the jail."""
        return KernelSpec(
            argv=[sys.executable, "-Xfrozen_modules=off", "-m", "ipykernel_launcher", "-f", "{connection_file}"],
            display_name="Jailed Python 3",
            language="python",
            interrupt_mode="message",
        )

    def format_kernel_cmd(self, extra_arguments: list[str] | None = None) -> list[str]:
        """Return the kernel's command, jailed, with the environment of whoever is being marked."""
        apprentice = os.environ.get(identity.VARIABLE, identity.PRACTICE)
        command = super().format_kernel_cmd(extra_arguments)
        inside = {
            **marking_environment(apprentice, int(os.environ.get(identity.TRY_VARIABLE, "1"))),
            "JPY_PARENT_PID": "1",
        }  # no parent to watch: the jail dies with it
        return jail_command(command, self.shared, inside)

    async def _async_cleanup_resources(self, restart: bool = False) -> None:
        await super()._async_cleanup_resources(restart=restart)
        if not restart:
            shutil.rmtree(self.shared, ignore_errors=True)
