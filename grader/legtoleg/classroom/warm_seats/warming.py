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
    "IPython.core.magics",
    "anywidget",
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
    "scipy.optimize",
)
WARM = "warm"
"""The name of our way of starting kernels."""


def load() -> list[str]:
    """Import what a seat's server and kernels use, and return what could not be: a seat then imports it itself."""
    missing = [name for name in (*_SERVER, *_KERNEL) if not _imported(name)]
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


def settle() -> None:
    """Collect what is left over and keep the rest where no collection writes to it: forks then share it."""
    gc.collect()
    gc.freeze()
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
