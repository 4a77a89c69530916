"""A learning platform of our own for tests: it signs who somebody is, by the words of LTI 1.3 and OpenID Connect."""

from __future__ import annotations

import json
import time
from dataclasses import dataclass, field
from typing import Any

import jwt
from aiohttp import web
from cryptography.hazmat.primitives.asymmetric import rsa
from jwt.algorithms import RSAAlgorithm

CLAIM = "https://purl.imsglobal.org/spec/lti/claim/"
ROLE = "http://purl.imsglobal.org/vocab/lis/v2/membership#"
CLIENT = "class-7"


def new_key() -> rsa.RSAPrivateKey:
    return rsa.generate_private_key(public_exponent=65537, key_size=2048)


@dataclass
class MadeUpPlatform:
    """The platform at one port of this computer; the two URLs that a tool is told answer by HTTP."""

    port: int
    key: rsa.RSAPrivateKey = field(default_factory=new_key)
    asked: dict[str, str] = field(default_factory=dict)
    """What the tool's last log-in asked for."""

    @property
    def issuer(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def settings(self) -> dict[str, str]:
        return {
            "issuer": self.issuer,
            "client_id": CLIENT,
            "authorize_url": f"{self.issuer}/authorize",
            "jwks_url": f"{self.issuer}/keys",
            "id_claim": "custom_apprentice",
        }

    async def keys(self, _: web.Request) -> web.Response:
        key = json.loads(RSAAlgorithm.to_jwk(self.key.public_key())) | {"kid": "one", "alg": "RS256", "use": "sig"}
        return web.json_response({"keys": [key]})

    async def authorize(self, request: web.Request) -> web.Response:
        """Note what is asked; a browser would get a form here that sends itself to the tool."""
        self.asked = dict(request.query)
        return web.Response(text="A form.")

    def token(
        self, apprentice: str, role: str = "Learner", *, key: Any = None, how: str = "RS256", **other: Any
    ) -> str:
        """Return who somebody is, signed; ``other`` claims replace what is true."""
        now = int(time.time())
        claims = {
            "iss": self.issuer,
            "aud": CLIENT,
            "sub": f"user-{apprentice}",
            "nonce": self.asked["nonce"],
            "iat": now,
            "exp": now + 300,
            f"{CLAIM}version": "1.3.0",
            f"{CLAIM}message_type": "LtiResourceLinkRequest",
            f"{CLAIM}deployment_id": "1",
            f"{CLAIM}target_link_uri": self.asked["redirect_uri"].partition("/hub/")[0] + "/",
            f"{CLAIM}resource_link": {"id": "the class"},
            f"{CLAIM}roles": [ROLE + role],
            f"{CLAIM}custom": {"apprentice": apprentice},
        }
        signing = "" if how == "none" else key or self.key
        return jwt.encode(claims | other, signing, algorithm=how, headers={"kid": "one"})

    async def open(self) -> web.AppRunner:
        side = web.Application()
        side.router.add_get("/keys", self.keys)
        side.router.add_get("/authorize", self.authorize)
        runner = web.AppRunner(side)
        await runner.setup()
        await web.TCPSite(runner, "127.0.0.1", self.port).start()
        return runner
