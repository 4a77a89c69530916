"""Graded questions: what is asked and in which form, for how many points. Worked answers are held by the instructor."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from string import ascii_lowercase
from typing import ClassVar, Generic

from dryerbench.core.random_stream import Stream
from dryerbench.course.job_card import CardT_contra, JobCard

_EXAMPLES = {1: "9", 2: "8.9", 3: "8.94", 4: "8.937"}
"""A number by its figures, as an example of how an answer is typed."""


@dataclass(frozen=True)
class Asked:
    """What every kind of question has: a name, a few words for tables, points, and whether safety hangs on it."""

    name: str
    title: str
    points: int
    safety: bool = False
    kind: ClassVar[str] = "asked"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return ""

    @property
    def empty(self) -> str:
        """What stands in an unsolved answer cell after the name and the equals sign."""
        return '""'

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return ""


@dataclass(frozen=True)
class Question(Asked):
    """A quantity: a number with a unit (a symbol of ``dryerbench.answers.units``), to so many significant figures.

    ``exact`` is for a rating from a table, which has to be met exactly.
    """

    unit: str = ""
    figures: int = 3
    exact: bool = False
    kind: ClassVar[str] = "quantity"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        how = "exactly" if self.exact else f"{self.figures} figures"
        return f"in {self.unit}, {how}"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        example = _EXAMPLES.get(self.figures, _EXAMPLES[3])
        return f'# Type it between the quotes, number and unit, like "{example} A", or as a sum, like "2 A + 6.94 A".'


@dataclass(frozen=True)
class Option:
    """One thing to choose or one step to order: a key for the marker, and its text for the person."""

    key: str
    text: str


Options = tuple[Option, ...]


def by_key(options: Iterable[Option]) -> Options:
    """Return ``options`` in the order of their keys, the only one in which a sheet keeps them: it says nothing."""
    return tuple(sorted(options, key=lambda option: option.key))


@dataclass(frozen=True)
class Lettered(Asked, Generic[CardT_contra]):
    """A question whose options carry letters, dealt in an order of each apprentice's own.

    ``options`` may depend on the job card, so that the texts carry the machine's own numbers.
    """

    options: Options | Callable[[CardT_contra], Options] = ()

    def options_for(self, card: CardT_contra) -> Options:
        """Return the options for the machine on ``card``, in the order of their keys."""
        return by_key(self.options(card) if callable(self.options) else self.options)

    def lettered(self, card: CardT_contra) -> dict[str, Option]:
        """Return the options by letter, in the order dealt to the apprentice on ``card``."""
        stream = Stream(f"{card.seed}/{self.name}")
        dealt = stream.shuffle(self.options_for(card))
        return dict(zip(ascii_lowercase, dealt, strict=False))


@dataclass(frozen=True)
class Choice(Lettered[CardT_contra]):
    """One option of several."""

    kind: ClassVar[str] = "choice"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "with one letter"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return '# Type one letter between the quotes, like "b".'


@dataclass(frozen=True)
class Choices(Lettered[CardT_contra]):
    """All options that fit, and none that does not."""

    kind: ClassVar[str] = "choices"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "with all letters that fit"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return '# Type all letters that fit between the quotes, like "a, d".'


@dataclass(frozen=True)
class Order(Lettered[CardT_contra]):
    """All steps, in an order in which they can safely be done."""

    kind: ClassVar[str] = "order"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "with all letters, in order"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return '# Type all letters between the quotes, first step first, like "c a d b".'


@dataclass(frozen=True)
class Row:
    """One reading of a table: its key, its label, the unit it is asked in."""

    key: str
    label: str
    unit: str


@dataclass(frozen=True)
class Readings(Asked):
    """A table of readings, each a quantity or OL."""

    rows: tuple[Row, ...] = ()
    kind: ClassVar[str] = "readings"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "as a table of readings"

    @property
    def empty(self) -> str:
        """The table with nothing filled in."""
        lines = "".join(f'    "{row.label}": "",\n' for row in self.rows)
        return "{\n" + lines + "}"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return '# Type each reading between its quotes, number and unit or OL, like "27.1 ohm".'


@dataclass(frozen=True)
class BenchQuestion(Asked):
    """Work on the bench: the trail of acts is handed in and done again by the marker."""

    kind: ClassVar[str] = "work"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "by working on the bench"

    @property
    def empty(self) -> str:
        """The bench as it was opened."""
        return "bench"

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return "# Work on the bench above, then run this cell and the next one."


MOST_MINUTES = 150
"""The minutes on the bench up to which readings count as evidence (our own rule): whoever needs more has not chosen."""


@dataclass(frozen=True)
class FaultQuestion(Lettered[CardT_contra]):
    """A fault named by its letter, with the bench's readings as its evidence."""

    kind: ClassVar[str] = "fault"

    @property
    def asked(self) -> str:
        """How the answer is wanted, in words."""
        return "with one letter; the bench's readings go with it"

    @property
    def empty(self) -> str:
        """The letter and the bench as it stands."""
        return '"", bench'

    @property
    def hint(self) -> str:
        """The comment below an empty answer."""
        return (
            '# Type the letter of the fault between the quotes, like "d". Your readings on the bench go with it,\n'
            f"# up to {MOST_MINUTES} minutes of the bench's clock."
        )


QuestionOf = (
    Question
    | Choice[CardT_contra]
    | Choices[CardT_contra]
    | Order[CardT_contra]
    | Readings
    | BenchQuestion
    | FaultQuestion[CardT_contra]
)
"""A question of the lesson with the card ``CardT_contra``."""
AnyQuestion = QuestionOf[JobCard]
"""A question of any lesson: it is found with the card that it takes, in one ``LessonSpec``."""
