"""JupyterLab's settings for this course."""

from __future__ import annotations

import hashlib

SETTINGS: dict[str, dict[str, object]] = {
    "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
    "notebook-extension/tracker": {"windowingMode": "none"},
}
"""JupyterLab's own settings: no news, no updates asked for, and a page that is drawn whole, so no drawing is lost."""

SWITCHED_OFF: dict[str, object] = {"disabledExtensions": {"@jupyter/nbgrader": True}}
"""What stays off: nbgrader's own buttons are for instructors; its check would tell an apprentice nothing true."""

FIRST_VIEW: dict[str, object] = {
    "data": {
        "layout-restorer:data": {
            "main": None,
            "left": {"collapsed": True, "visible": True, "current": None, "widgets": None},
            "right": {"collapsed": True, "visible": False, "current": None, "widgets": None},
        }
    },
    "metadata": {"id": "default"},
}
"""JupyterLab's own record of how its window stood, for the first start: no list of files takes room from a lesson."""
FIRST_VIEW_FILE = f"default-{hashlib.sha256(b'default').hexdigest()[:4]}.jupyterlab-workspace"
"""The file under which JupyterLab looks for it, by its own rule."""
WORKSPACES = "workspaces"
"""The folder of such records, among the course's settings."""
