"""What can go wrong, each a LegToLegError and the fitting built-in, with a sentence for the person."""

from __future__ import annotations


class LegToLegError(Exception):
    """Base of every error that this course raises on purpose; its text is one line for a person."""


class UnreadableAnswerError(LegToLegError, ValueError):
    """A typed answer that cannot be read with certainty; the text asks what was meant."""


class TableError(LegToLegError, LookupError):
    """A table, row or column of the datasets that is missing or out of its range."""


class OutOfRangeError(LegToLegError, ValueError):
    """A value that no dryer, duct, switch or sensor of this course could have; the text says which."""


class KitError(LegToLegError, ValueError):
    """A kit file that is damaged or belongs to something else."""


class UnknownQuestionError(LegToLegError, KeyError):
    """A question name that this lesson does not have."""

    def __str__(self) -> str:
        return str(self.args[0]) if self.args else "unknown question"
