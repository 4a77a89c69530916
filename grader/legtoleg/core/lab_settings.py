"""JupyterLab's settings for this course."""

from __future__ import annotations

SETTINGS: dict[str, dict[str, object]] = {
    "apputils-extension/notification": {"fetchNews": "false", "checkForUpdates": False},
    "notebook-extension/tracker": {"windowingMode": "none"},
}
"""JupyterLab's own settings: no news, no updates asked for, and a page that is drawn whole, so no drawing is lost."""

SWITCHED_OFF: dict[str, object] = {"disabledExtensions": {"@jupyter/nbgrader": True}}
"""What stays off: nbgrader's own buttons are for instructors; its check would tell an apprentice nothing true."""
