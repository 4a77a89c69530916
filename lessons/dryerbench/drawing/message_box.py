"""The message box of a notebook and of a feedback page: words with an edge and a sign that show how it went."""

from __future__ import annotations

from html import escape

from dryerbench.drawing.figure_style import AMBER, BLUE


def message_box(body: str, *, heading: str = "", sign: str = "", fine: bool = True, spoken: bool = False) -> str:
    """Return the box as HTML: ``sign`` and ``heading`` are text, ``body`` is HTML that is safe already.

    The edge is blue where all is ``fine`` and amber where something is to be looked at. A box that answers a press is
    ``spoken``: a screen reader reads it when it comes.
    """
    words = " ".join(word for word in (sign, escape(heading)) if word)
    role = " role='alert'" if spoken else ""
    bold = f"<b>{words}</b>" if words else ""
    return (
        f"<div{role} style='border-left:5px solid {BLUE if fine else AMBER};line-height:1.45;padding:0.4em 0.8em;"
        f"margin:0.2em 0;max-width:58em'>{bold}{body}</div>"
    )
