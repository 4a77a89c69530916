"""What is imported, and done once, so that a fork finds it in memory; and what a fork has to make its own."""

from __future__ import annotations

import gc
import importlib
import io
import os
import pkgutil
import random
import sys
import tempfile
from importlib.metadata import EntryPoint
from pathlib import Path
from types import ModuleType
from typing import ClassVar

_SERVER = (
    "jupyterhub.singleuser",
    "jupyterhub.singleuser.extension",
    "jupyter_server.gateway.managers",
    "jupyter_server.nbconvert.handlers",
    "jupyter_server.services.contents.largefilemanager",
    "jupyter_server.services.kernels.connection.channels",
    "jupyter_server.serverapp",
    "jupyterlab.labapp",
    "jupyterlab_server",
    "jsonschema",
    "nbformat.v4",
)
_KERNEL = (
    "IPython.core.completer",
    "IPython.core.completerlib",
    "IPython.core.debugger",
    "IPython.core.logger",
    "IPython.core.magics",
    "IPython.core.oinspect",
    "IPython.extensions.storemagic",
    "anywidget",
    "encodings.ascii",
    "encodings.latin_1",
    "encodings.unicode_escape",
    "encodings.utf_16_be",
    "fluids.fittings",
    "fluids.friction",
    "ipykernel.debugger",
    "ipykernel.ipkernel",
    "ipykernel.kernelapp",
    "ipywidgets",
    "jedi",
    "matplotlib.backends.backend_agg",
    "matplotlib.font_manager",
    "matplotlib.pyplot",
    "numpy.random",
    "pandas",
    "pint",
    "scipy.interpolate",
    "scipy.optimize",
    "tornado.platform.asyncio",
)
_DEBUGGER = "debugpy"
"""No lesson needs it; each kernel would load it for itself, some 10 MiB."""


class _SysWithoutModules:
    """``sys`` as a kernel's own module sees it, with no modules to go through.

    It lists their files for the debugger, and to touch thousands of modules is to copy 20 MiB that forks share.
    """

    modules: ClassVar[dict[str, ModuleType]] = {}

    def __getattr__(self, name: str) -> object:
        return getattr(sys, name)


WARM = "warm"
"""The name of our way of starting kernels."""


def load() -> list[str]:
    """Import what a seat's server and kernels use, and return what could not be: a seat then imports it itself."""
    sys.modules[_DEBUGGER] = None  # type: ignore[assignment]  # so the kernel finds none, and says that it has none
    missing = [name for name in (*_SERVER, *_KERNEL) if not _imported(name)]
    if "ipykernel.ipkernel" in sys.modules:
        vars(sys.modules["ipykernel.ipkernel"])["sys"] = _SysWithoutModules()
    import dryerbench

    names = [module.name for module in pkgutil.walk_packages(dryerbench.__path__, "dryerbench.")]
    missing += [name for name in names if not name.endswith("__main__") and not _imported(name)]
    from jupyter_client.provisioning.factory import KernelProvisionerFactory

    place = f"{__package__}.provisioner:WarmProvisioner"
    KernelProvisionerFactory.provisioners[WARM] = EntryPoint(WARM, place, KernelProvisionerFactory.GROUP_NAME)
    return missing


def _imported(name: str) -> bool:
    try:
        importlib.import_module(name)
    except ImportError:
        return False
    return True


def rehearse() -> None:
    """Do once what every page does, so that what is made on first use is made here.

    No one's machine, no choice of backend, nothing that depends on a folder.
    """
    from matplotlib.figure import Figure

    figure = Figure()
    axes = figure.add_subplot()
    axes.plot([1, 2], [3, 4], label="Ω")
    axes.legend()
    figure.savefig(io.BytesIO(), format="png")
    from dryerbench.diagnosis.service_calls import deal_call
    from dryerbench.notebook.machine_panel import MachinePanel

    panel = MachinePanel(deal_call(1).bench)
    for act, more in (
        ("unplug", {}),
        ("cover_off", {}),
        ("set_dial", {"mode": "ohms", "full_scale": None}),
        ("probe", {"a": "T0", "b": "T1"}),
    ):
        panel.receive({"act": act, "with": more})
    panel.close()
    _deal_cards()


def _deal_cards() -> None:
    """Deal each lesson's card of the practice machine in a folder that is nobody's, and forget it."""
    from dryerbench.notebook.hand_in import close_lessons, job_card
    from dryerbench.registry import SHEETS

    before = Path.cwd()
    with tempfile.TemporaryDirectory() as nowhere:
        os.chdir(nowhere)
        try:
            for lesson in SHEETS:
                job_card(lesson)
        finally:
            close_lessons()
            os.chdir(before)


def settle() -> None:
    """Collect what is left over and keep the rest where no collection writes to it: forks then share it."""
    gc.collect()
    gc.freeze()
    gc.collect()  # once more: a fork counts what it has to collect against what was alive here, which now is nothing
    gc.disable()


def wake(environment: dict[str, str], folder: str, words: list[str]) -> None:
    """Make what a fork inherits its own: environment, folder, words of the command, chance."""
    nowhere = os.open(os.devnull, os.O_RDONLY)
    os.dup2(nowhere, 0)
    os.close(nowhere)
    os.environ.clear()
    os.environ.update(environment)
    os.chdir(folder)
    sys.argv[:] = words
    random.seed()
    sys.modules["numpy.random"].seed()
    tempfile.tempdir = None
    gc.enable()
