"""Log-in: the code of a slip with a new password the first time, the password after that; guesses are slowed down."""

from __future__ import annotations

import asyncio
import math

from jupyterhub.auth import Authenticator
from tornado.web import HTTPError, RequestHandler

from legtoleg.classroom.accounts import Accounts, Guessing, fault_of
from legtoleg.classroom.class_folder import ClassFolder

NOT_RIGHT = "Id, code or password is not right."
CHOOSE = "The code is right. Type it again, and choose a password of your own below."


class RosterAuthenticator(Authenticator):  # type: ignore[misc]
    """Lets in who is on the cohort's roster, and the instructor."""

    folder: ClassFolder

    by_id = Guessing(free=20, wait=5.0)
    """Against many addresses; free guesses are many, so that nobody locks a neighbor out."""
    by_address = Guessing()

    def known(self, who: str) -> bool:
        """Tell whether ``who`` may have an account: who is on the roster, and has not left."""
        return self.folder.lets_in(who)

    async def authenticate(self, handler: RequestHandler, data: dict[str, str]) -> str | None:
        """Return the user's name; None if the log-in is not right.

        Raises
        ------
        HTTPError
            With words for the person: a wait, or what is wrong with the new password.
        """
        who = data.get("username", "").strip().lower()[:80]
        near = f"{handler.request.remote_ip} {who}"
        left = max(self.by_id.seconds_left(who), self.by_address.seconds_left(near))
        if left:
            raise HTTPError(429, "Too many wrong guesses. Wait %d seconds, then try again.", math.ceil(left))
        accounts = Accounts(self.folder)
        self._note(who, near, right=False)  # counted before it is looked at: guesses side by side count as well
        if not (await asyncio.to_thread(accounts.fits, who, data.get("password", "")) and self.known(who)):
            return None
        self._note(who, near, right=True)
        if not accounts.has_password(who):
            new = data.get("new_password", "")
            wrong = fault_of(new, data.get("again", ""), who) if new else CHOOSE
            if wrong:
                raise HTTPError(403, "%s", wrong)
            await asyncio.to_thread(accounts.choose, who, new)
        return who

    def _note(self, who: str, near: str, *, right: bool) -> None:
        self.by_id.note(who, right=right)
        self.by_address.note(near, right=right)

    def check_allowed(self, username: str, authentication: object = None) -> bool:
        """Tell whether a user may come in, also one with a log-in from before who has left the roster since."""
        del authentication
        return self.known(username)
