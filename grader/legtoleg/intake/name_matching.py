"""Names in names: who of a roster is named by a file's path, by whole words, whatever a browser or a mailer added.

Words are compared without accents, whether these came composed or decomposed, and without upper case. A lesson's own
name or number is taken out first, so that ``10_call_to_close.ipynb`` is never the hand-in of a person with the id 10.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import PurePosixPath

from legtoleg.intake.roster import Person

_ENDING = re.compile(r"\.(ipynb|json|txt|zip|html?|pdf|py)\b", re.IGNORECASE)
_COPY = re.compile(
    r"(\s*\(\d{1,3}\)|\s*\[\d{1,3}\]|\s+-\s+copy(\s*\(\d+\))?|[\s_-]+copy(\s*\d{1,3})?|-checkpoint|-copy\d{1,3})+$",
    re.IGNORECASE,
)
_COPY_OF = re.compile(r"^(copy of\s+|copy \(\d+\) of\s+|(re|fw|fwd):\s+)+", re.IGNORECASE)
_LEAST_DIGITS = 3
"""A number with fewer digits is an id only where it stands alone as a whole name, not among other words."""
_NO_DECOMPOSITION = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ß": "ss"})


@lru_cache(maxsize=4096)
def folded(text: str) -> str:
    """Return ``text`` in lower case without accents, composed or decomposed: “José” and “JOSE” are the same."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter)).translate(_NO_DECOMPOSITION)


def without_additions(name: str) -> str:
    """Return one piece of a path without its ending and without what browsers and mail put around a name."""
    before = ""
    while name != before:
        before = name
        name = _COPY_OF.sub("", _COPY.sub("", _ENDING.sub("", name).strip()).strip())
    return name


def _without_lessons(piece: str, lessons: Iterable[str]) -> str:
    for lesson in lessons:
        number, _, topic = lesson.partition("_")
        words = [re.escape(word) for word in topic.split("_") if word]
        title = r"[\W_]*".join(words)
        piece = re.sub(rf"(?<![^\W_])(0*{int(number)}[\W_]*)?{title}(?![^\W_])", " ", piece)
        piece = re.sub(rf"\b(lesson|les|nr|no|number)[\W_]*0*{int(number)}(?![^\W_])", " ", piece)
        piece = re.sub(rf"^\W*{number}(?=[\W_]|$)", " ", piece)
    return piece


def _words(text: str) -> list[str]:
    return [word for word in re.split(r"[\W_]+", text) if word]


def _runs(words: list[str], wanted: list[str]) -> set[int]:
    """Return the places at which ``wanted`` stands in ``words``, all of them, if it does in a row."""
    long = len(wanted)
    for start in range(len(words) - long + 1):
        if long and words[start : start + long] == wanted:
            return set(range(start, start + long))
    return set()


def _id_places(words: list[str], person: Person) -> set[int]:
    wanted = _words(folded(person.id))
    short = len(wanted) == 1 and (len(wanted[0]) < _LEAST_DIGITS if wanted[0].isdecimal() else len(wanted[0]) < 2)
    return set() if short and words != wanted else _runs(words, wanted)


def _name_places(words: list[str], person: Person) -> set[int]:
    """Return where the whole name stands: in its order, turned, or its last word first; one word is no whole name."""
    name = _words(folded(person.name))
    if len(name) < 2:
        return set()
    for wanted in (name, name[::-1], [name[-1], *name[:-1]], [*name[1:], name[0]]):
        if places := _runs(words, wanted):
            return places
    run_together = {"".join(name), "".join([name[-1], *name[:-1]])}
    return {place for place, word in enumerate(words) if word in run_together}


def named_in(path: str, people: Sequence[Person], lessons: Sequence[str]) -> set[str]:
    """Return the ids of those of ``people`` whom ``path`` names, by id or by whole name.

    Who is named by a part of a longer match is not meant: “Ann Lee Demo” is not “Ann Lee”.
    """
    found: set[str] = set()
    for piece in PurePosixPath(path.replace("\\", "/").replace(": ", "/")).parts:
        words = _words(_without_lessons(folded(without_additions(piece)), lessons))
        places = {person.id: _id_places(words, person) | _name_places(words, person) for person in people}
        found |= {who for who, mine in places.items() if mine and not any(mine < others for others in places.values())}
    return found
