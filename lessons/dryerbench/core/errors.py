"""What can go wrong, each a LegToLegError and the fitting built-in, with a sentence for the person."""

from __future__ import annotations


class LegToLegError(Exception):
    """Base of every error that this course raises on purpose; its text is one line for a person."""


class UnreadableAnswerError(LegToLegError, ValueError):
    """A typed answer that cannot be read with certainty; the text asks what was meant, in one line.

    ``reason`` is a short code (``dryerbench.answers.clarification.REASONS`` lists them); ``suggestion`` is a text that
    ``dryerbench.answers.parser.read`` accepts, or None when there is no single best one.
    """

    def __init__(self, question: str, reason: str = "not_an_answer", suggestion: str | None = None) -> None:
        super().__init__(question)
        self.reason = reason
        self.suggestion = suggestion


class SumError(LegToLegError, ValueError):
    """A sum with units that comes to nothing; the text says why, as the end of a sentence."""


class UnknownUnitError(LegToLegError, LookupError):
    """A unit symbol that the course's table of units does not have."""


class UnitMismatchError(LegToLegError, ValueError):
    """Two units that measure different things, such as volts and amps."""


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
