"""Topics.

One folder a lesson: sheet (card and questions), models (tasks), slips, drills, figures. None imports another.
"""
