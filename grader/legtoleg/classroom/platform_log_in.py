"""Log-in through a learning platform by LTI 1.3: the platform says who it is, the roster says who may come in."""

from __future__ import annotations

from ltiauthenticator.lti13.auth import LTI13Authenticator
from ltiauthenticator.lti13.constants import LTI13_CUSTOM_CLAIM
from ltiauthenticator.lti13.error import ValidationError
from ltiauthenticator.lti13.handlers import LTI13CallbackHandler, LTI13LoginInitHandler
from tornado.web import HTTPError, RequestHandler
from traitlets.config import Config

from legtoleg.classroom.class_folder import INSTRUCTOR, ClassFolder
from legtoleg.classroom.platform_settings import Platform

ROLES = "https://purl.imsglobal.org/spec/lti/claim/roles"
TEACHES = frozenset({"http://purl.imsglobal.org/vocab/lis/v2/membership#Instructor", "Instructor"})
"""The role of who teaches this course, in full and as its short name (LTI 1.3 core, A.2.2)."""
_AGAIN = "Open the class from your learning platform again. If you see this page again, show it to your instructor."


class LogInStart(LTI13LoginInitHandler):  # type: ignore[misc]
    """Starts a log-in. What it remembers has to come back in a form that another site sends."""

    def _set_oauth_cookie(self, key: str, value: str) -> None:
        self._set_cookie(key, value, expires_days=1, httponly=True, encrypted=True, samesite="None", secure=True)


class LogInEnd(LTI13CallbackHandler):  # type: ignore[misc]
    """Takes what the platform says; what is wrong with it is said in words for the person."""

    def decode_and_validate_launch_request(self) -> dict[str, object]:
        """Return the claims of the platform.

        Raises
        ------
        HTTPError
            If they are not the platform's, not for this class, too old, or for another log-in.
        """
        try:
            claims: dict[str, object] = super().decode_and_validate_launch_request()
        except ValidationError as error:
            raise HTTPError(403, "%s", f"The log-in was not accepted ({error}). {_AGAIN}") from None
        except HTTPError as error:
            raise HTTPError(403, "%s", f"The log-in was not accepted ({error.log_message}). {_AGAIN}") from None
        return claims


class PlatformAuthenticator(LTI13Authenticator):  # type: ignore[misc]
    """Lets in who is on the cohort's roster; who teaches the course on the platform is the instructor."""

    folder: ClassFolder
    login_handler = LogInStart
    callback_handler = LogInEnd

    def known(self, who: str) -> bool:
        """Tell whether ``who`` may have an account."""
        return self.folder.lets_in(who)

    async def authenticate(self, handler: RequestHandler, data: dict[str, object] | None = None) -> str:
        """Return the user's name from the claims of the platform.

        Raises
        ------
        HTTPError
            If the platform does not say an id of the roster.
        """
        del handler
        claims = data or {}
        roles = claims.get(ROLES)
        if isinstance(roles, list) and TEACHES & {str(role) for role in roles}:
            return INSTRUCTOR
        said = id_in(claims, self.username_key)
        who = said.lower()
        if not said:
            raise HTTPError(403, "%s", f"The platform did not say your id ({self.username_key}). Tell your instructor.")
        if who == INSTRUCTOR or not self.known(who):
            raise HTTPError(
                403, "%s", f"The id “{said[:80]}” is not on the roster of this class. Tell your instructor."
            )
        return who

    def check_allowed(self, username: str, authentication: object = None) -> bool:
        """Tell whether a user may come in, also one with a log-in from before who has left the roster since."""
        del authentication
        return self.known(username)


def id_in(claims: dict[str, object], name: str) -> str:
    """Return the id in the claim ``name``; ``custom_x`` is ``x`` of what the platform was told to send. Else empty."""
    custom = claims.get(LTI13_CUSTOM_CLAIM)
    if name.startswith("custom_"):
        claims, name = (custom if isinstance(custom, dict) else {}), name.removeprefix("custom_")
    said = claims.get(name)
    return said.strip() if isinstance(said, str) else ""


def log_in_by_platform(c: Config, platform: Platform, folder: ClassFolder) -> None:
    """Set the hub up so that people come in through ``platform`` alone."""
    PlatformAuthenticator.folder = folder
    c.JupyterHub.authenticator_class = PlatformAuthenticator
    c.LTI13Authenticator.issuer = platform.issuer
    c.LTI13Authenticator.client_id = {platform.client_id}
    c.LTI13Authenticator.authorize_url = platform.authorize_url
    c.LTI13Authenticator.jwks_endpoint = platform.jwks_url
    c.LTI13Authenticator.username_key = platform.id_claim
    c.LTI13Authenticator.uri_scheme = "https"
    c.LTI13Authenticator.tool_name = "Leg to Leg"
    c.LTI13Authenticator.tool_description = "A class on the heater of an electric dryer"
