"""The room of sealed benches: takes acts, writes them, answers; what it answers holds nothing of machine or fault."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from dryerbench.core.errors import LegToLegError
from dryerbench.core.version import course_version
from dryerbench.notebook.forms import LONGEST_TRAIL
from legtoleg.classroom.sealed_asking import Asked, look_of, read_act, read_object, read_press
from legtoleg.classroom.sealed_book import DoneAct, Named, SealedBook, SupervisedTest
from legtoleg.classroom.sealed_dealing import CALLS, REFRESHER, Dealer, SealedJob, jobs_of, offers
from legtoleg.classroom.sealed_pace import REFUSED, Pace, wait_words
from legtoleg.classroom.sealed_sight import SealedDesk, SealedNames, sealed_names

NOT_YOURS = "There is no such test for you."
OVER = "This test has ended. What you did is kept, and your instructor grades it."
MALFORMED = "This bench does not have that act."
TITLES = {CALLS: "Supervised test: three calls", REFRESHER: "Supervised test: refresher"}
"""What each kind is called."""
SEE = "see"
"""A press that does nothing: the page wants to see how the bench stands."""
_Job = tuple[str, str, str]


@dataclass(frozen=True)
class Answer:
    """What goes back: an HTTP status and JSON."""

    status: int
    text: str

    @staticmethod
    def of(status: int, **content: object) -> Answer:
        """Return an answer that holds ``content``."""
        return Answer(status, json.dumps(content, ensure_ascii=False, sort_keys=True))


class RefusedError(LegToLegError, ValueError):
    """Something that is not done; the text is all that is said to it."""

    def __init__(self, status: int, words: str, **more: object) -> None:
        super().__init__(words)
        self.answer = Answer.of(status, said=words, **more)


def not_kept() -> RefusedError:
    """Return what is said when the disk is full."""
    return RefusedError(
        507, "The class could not write this down, so nothing was done. Tell your instructor, then try again."
    )


@dataclass
class SealedRoom:
    """All sealed benches of a class. A bench lives here while the service does, and is built again from the book.

    Every method raises ``RefusedError`` for what is not done, and for whoever may not ask.
    """

    book: SealedBook
    dealer: Dealer
    _benches: dict[_Job, SealedNames] = field(default_factory=dict)
    _paces: dict[tuple[str, str], Pace] = field(default_factory=dict)

    # --- what may be asked --------------------------------------------------------------------------------------

    def tests(self, who: str) -> Answer:
        """Return the tests of ``who``, open ones and those that have ended."""
        return Answer.of(200, tests=[self._test(one, who) for one in self.book.tests_of(who)])

    def opened(self, who: str, test: str, key: str) -> Answer:
        """Return a bench as it stands, with the acts so far, so that a page that was closed goes on."""
        there, job = self._find(who, test, key)
        desk = SealedDesk(self._bench(who, there, job))
        card = self.dealer.card(test, who, job.lesson)
        named = self.book.named(test, who, key)
        return Answer.of(
            200,
            menu=desk.menu(),
            stands=desk.stands(),
            trail=[json.loads(one.answer)["record"] for one in self.book.acts(test, who, key)],
            title=job.title,
            known=job.known(card),
            offers=offers(job, card),
            named="" if named is None else named.value,
        )

    def act(self, who: str, test: str, key: str, body: bytes) -> Answer:
        """Do one act; asked again with the same number and details, it is the same answer and nothing is done."""
        there, job = self._find(who, test, key)
        asked = read_act(body)
        if asked is None:
            raise self._cost(who, test, 400, MALFORMED)
        done = self._done(who, there, job, asked)
        if done is not None:
            return Answer(200, done.answer)
        desk = self._desk(who, there, job, asked)
        try:
            self._do(who, there, job, lambda: desk.by_code(asked.act, asked.given))
        except LegToLegError as error:
            raise self._told(who, test, desk, error) from None
        answer = Answer.of(200, n=desk.acts, record=desk.record(), stands=desk.stands())
        self._write(who, there, job, asked, desk, answer.text)
        return answer

    def press(self, who: str, test: str, key: str, body: bytes) -> Answer:
        """Do what a page's panel asks for, and return what it shows then; a press that is no act is not written."""
        there, job = self._find(who, test, key)
        asked = read_press(body)
        if asked is None:
            raise self._cost(who, test, 400, MALFORMED)
        done = None if asked.act == SEE else self._done(who, there, job, asked)
        if done is not None:
            return self._again(who, there, job, done)
        desk = self._desk(who, there, job, asked)
        refused, said = False, ""
        try:
            if asked.act != SEE:
                said = self._do(who, there, job, lambda: desk.do(asked.act, asked.given))
        except LegToLegError as error:
            said, refused = str(self._told(who, test, desk, error)), True
        shown = desk.shown()
        kept = {
            "n": desk.acts,
            "record": desk.record(),
            "said": said,
            "look": desk.look_data(),
            "stands": desk.stands(),
        }
        if desk.done is not None:
            self._write(who, there, job, asked, desk, Answer.of(200, **kept).text)
        return Answer.of(422 if refused else 200, **kept, **shown)

    def name(self, who: str, test: str, key: str, body: bytes) -> Answer:
        """Write the fault that is named; the first one counts."""
        _, job = self._find(who, test, key)
        asked = read_object(body, frozenset({"fault"}))
        value = asked["fault"] if asked else None
        offered = [fault for fault, _ in offers(job, self.dealer.card(test, who, job.lesson))]
        if not isinstance(value, str) or value not in offered:
            raise self._cost(who, test, 400, "Pick one of the faults that are offered.")
        before = self.book.named(test, who, key)
        if before is not None and before.value != value:
            raise RefusedError(409, "You already named the fault. The first name counts.")
        if before is None:
            try:
                self.book.name(test, who, key, Named(value, self.book.did(test, who, [key])[key]))
            except sqlite3.Error:
                raise not_kept() from None
        return Answer.of(200, said="Recorded. You'll find out if it's right when the test is graded.", named=value)

    def end(self, who: str, test: str) -> Answer:
        """End the test for ``who``: there is one try."""
        self.mine(who, test)
        try:
            self.book.end(test, who)
        except sqlite3.Error:
            raise not_kept() from None
        return Answer.of(200, said=OVER)

    def mine(self, who: str, test: str) -> SupervisedTest:
        """Return ``test`` if ``who`` may work on it now."""
        found = next((one for one in self.book.tests_of(who) if one.test == test), None)
        if found is None:
            raise RefusedError(403, NOT_YOURS)
        if not self.book.is_open(found, who):
            raise RefusedError(409, OVER)
        return found

    # --- how ----------------------------------------------------------------------------------------------------

    def _find(self, who: str, test: str, key: str) -> tuple[SupervisedTest, SealedJob]:
        mine = self.mine(who, test)
        jobs = {one.key: one for one in jobs_of(mine.kind, self.book.takers(test)[who])}
        if key not in jobs:
            raise RefusedError(403, NOT_YOURS)
        return mine, jobs[key]

    def _test(self, test: SupervisedTest, who: str) -> dict[str, object]:
        jobs = jobs_of(test.kind, self.book.takers(test.test)[who])
        did = self.book.did(test.test, who, [job.key for job in jobs])
        return {
            "test": test.test,
            "kind": test.kind,
            "title": TITLES[test.kind],
            "open": self.book.is_open(test, who),
            "until": datetime.fromtimestamp(test.until, UTC).isoformat(timespec="seconds"),
            "left": max(0, round(test.until - self.book.now())),
            "jobs": [[job.key, job.title, did[job.key]] for job in jobs],
        }

    def _pace(self, who: str, test: str) -> Pace:
        if (who, test) not in self._paces:
            last = self.book.last(test, who)
            self._paces[who, test] = Pace(self.book.now()) if last is None else Pace(*last)
        return self._paces[who, test]

    def _in_turn(self, who: str, test: str) -> None:
        wait = self._pace(who, test).wait(self.book.now())
        if wait > 0:
            raise RefusedError(429, wait_words(wait), wait=round(wait + 0.05, 1))

    def _cost(self, who: str, test: str, status: int, words: str) -> RefusedError:
        """Return a refusal, which costs its time too, or raise that it is not somebody's turn."""
        self._in_turn(who, test)
        self._paces[who, test] = self._pace(who, test).spent(self.book.now(), REFUSED)
        return RefusedError(status, words)

    def _bench(self, who: str, test: SupervisedTest, job: SealedJob) -> SealedNames:
        place = (test.test, who, job.key)
        if place not in self._benches:
            if test.course != course_version():
                raise RefusedError(409, "This test was opened by another version of the course: tell your instructor.")
            bench = self.dealer.bench(test.test, who, job)
            for one in self.book.acts(test.test, who, job.key):
                given = one.act["with"]
                assert isinstance(given, dict)
                bench.do(str(one.act["act"]), **given)
            self._benches[place] = sealed_names(bench)
        return self._benches[place]

    def _done(self, who: str, test: SupervisedTest, job: SealedJob, asked: Asked) -> DoneAct | None:
        """Return the act that this asks for again; None for the next one."""
        done = self.book.act(test.test, who, job.key, asked.n)
        if done is not None and done.act["asked"] == asked.data():
            return done
        count = self.book.did(test.test, who, [job.key])[job.key]
        if asked.n != count:
            acts = f"{count} act{'s' * (count != 1)}"
            raise RefusedError(409, f"This job has {acts} by now: what you did is kept. Open it again.", n=count)
        return None

    def _again(self, who: str, test: SupervisedTest, job: SealedJob, done: DoneAct) -> Answer:
        """Return the answer to a press that is asked again: what was done and said, and the bench as it stands."""
        kept = json.loads(done.answer)
        names = self._bench(who, test, job)
        return Answer.of(200, **kept, **SealedDesk(names, look_of(kept.get("look"), names.point_at)).shown())

    def _desk(self, who: str, test: SupervisedTest, job: SealedJob, asked: Asked) -> SealedDesk:
        """Return the desk for what is asked; its bench takes an act only when it is its turn."""

        def before() -> None:
            if asked.n >= LONGEST_TRAIL:
                raise RefusedError(409, f"{LONGEST_TRAIL} acts are the most that one job may have.")
            self._in_turn(who, test.test)

        names = self._bench(who, test, job)
        return SealedDesk(names, look_of(asked.look, names.point_at), before)

    def _do(self, who: str, test: SupervisedTest, job: SealedJob, do: Callable[[], str]) -> str:
        try:
            return do()
        except (TypeError, ValueError, LookupError, AttributeError, ArithmeticError) as error:
            if isinstance(error, LegToLegError):
                raise
            # half done, perhaps: it is built again from what is written
            self._benches.pop((test.test, who, job.key), None)
            raise self._cost(who, test.test, 400, MALFORMED) from None

    def _told(self, who: str, test: str, desk: SealedDesk, error: LegToLegError) -> RefusedError:
        """Return what is said of something that is not done, without names; it costs its time."""
        if isinstance(error, RefusedError):
            raise error
        return self._cost(who, test, 422, desk.names.clean(str(error)))

    def _write(
        self, who: str, test: SupervisedTest, job: SealedJob, asked: Asked, desk: SealedDesk, answer: str
    ) -> None:
        """Write the act that ``desk`` did, as the bench knows it and as it was asked."""
        assert desk.done is not None
        now, record = self.book.now(), desk.done
        pace = self._pace(who, test.test).spent(now, record["minutes"])
        act: dict[str, object] = {"act": record["act"], "with": record["with"], "asked": asked.data()}
        try:
            self.book.write(test.test, who, job.key, DoneAct(asked.n, act, answer, now, pace.balance))
        except sqlite3.Error:
            self._benches.pop((test.test, who, job.key), None)
            raise not_kept() from None
        self._paces[who, test.test] = pace
