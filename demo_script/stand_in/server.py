"""The loopback server: tokens, methods, downloads, and the troubles that tests order."""

from collections.abc import Awaitable, Callable, Mapping

from aiohttp import web

from demo_script.stand_in.faults import Fault, Trouble, first_trouble
from demo_script.stand_in.methods import METHODS
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import NOT_FOUND, UNAUTHORIZED, Refusal, bad_request
from demo_script.stand_in.requests import Request, failure, read_params, success
from demo_script.stand_in.world import World

ENVELOPE_BYTES = 1024 * 1024  # what a multipart body adds around the file
LONGEST_POLL_SECONDS = 50


Wait = Callable[[float], Awaitable[object]]
"""Waits so many real seconds."""

Validator = Callable[[str, Mapping[str, object]], None]
"""Raises if a request doesn't fit an independent description of the API."""


class Server:
    """Answers HTTP; every request is recorded with what came of it."""

    def __init__(
        self, world: World, token: str, wait: Wait, validator: Validator | None = None
    ) -> None:
        self.requests: list[Request] = []
        self.invalid: list[str] = []
        self.faults: list[Fault] = []
        self._world = world
        self._token = token
        self._wait = wait
        self._validator = validator
        self.app = web.Application(client_max_size=world.limits.upload_bytes + ENVELOPE_BYTES)
        self.app.router.add_route("*", "/bot{token}/{method}", self._call)
        self.app.router.add_get("/file/bot{token}/{path:.+}", self._download)
        self.app.router.add_route("*", "/{rest:.*}", self._nothing_here)

    async def _call(self, request: web.Request) -> web.StreamResponse:
        method, params = request.match_info["method"], Params({})
        try:
            self._check_token(request.match_info["token"])
            params = await read_params(request, self._world.limits.upload_bytes)
            trouble = first_trouble(self.faults, method, params.values)
        except Refusal as refusal:
            self._record(method, params, refusal.code, refusal.description, applied=False)
            return failure(refusal)
        if trouble is not None:
            return await self._troubled(request, method, params, trouble)
        answer, why = await self._answer(method, params)
        self._record(method, params, answer.status, why, applied=not why)
        return answer

    async def _answer(self, method: str, params: Params) -> tuple[web.Response, str]:
        """The right answer, and why the request was refused (empty if it wasn't)."""
        try:
            return success(await self._apply(method, params)), ""
        except Refusal as refusal:
            return failure(refusal), refusal.description

    async def _apply(self, method: str, params: Params) -> object:
        self._validate(method, params)
        if method.lower() == "getupdates":
            return await self._take_updates(params)
        known = METHODS.get(method.lower())
        if known is None:
            raise NOT_FOUND
        return known(self._world, params)

    async def _take_updates(self, params: Params) -> object:
        allowed = params.parsed("allowed_updates")
        return await self._world.updates.take(
            params.number("offset"),
            params.number("limit", 100),
            min(params.number("timeout"), LONGEST_POLL_SECONDS),
            None if allowed is None else [str(kind) for kind in allowed],
        )

    async def _troubled(
        self, request: web.Request, method: str, params: Params, trouble: Trouble
    ) -> web.StreamResponse:
        """Do what was asked or not, wait, and then answer wrongly or not at all."""
        answer, why = web.Response(), ""
        if trouble.applied:
            answer, why = await self._answer(method, params)
        await self._wait(trouble.wait_seconds)
        done = trouble.applied and not why
        if trouble.cut:
            self._record(method, params, None, why, applied=done)
            if request.transport is not None:
                request.transport.close()
            return answer  # goes nowhere: the line is closed
        if trouble.status is not None:
            answer = web.Response(
                status=trouble.status, text=trouble.body, content_type="text/html"
            )
        self._record(method, params, answer.status, why, applied=done)
        return answer

    async def _download(self, request: web.Request) -> web.StreamResponse:
        try:
            self._check_token(request.match_info["token"])
            file = self._world.files.by_path(request.match_info["path"])
            if file is None:
                raise NOT_FOUND
        except Refusal as refusal:
            return failure(refusal)
        return web.Response(body=file.content, content_type="application/octet-stream")

    async def _nothing_here(self, _request: web.Request) -> web.StreamResponse:
        return failure(NOT_FOUND)

    def _check_token(self, token: str) -> None:
        if token != self._token:
            well_formed = token.partition(":")[0].isdigit()
            raise UNAUTHORIZED if well_formed else NOT_FOUND

    def _validate(self, method: str, params: Params) -> None:
        if self._validator is None:
            return
        try:
            self._validator(method, params.values)
        except Exception as wrong:  # whatever it is, the test must see it
            self.invalid.append(f"{method}: {wrong}")
            raise bad_request(f"not a valid {method}: {wrong}") from wrong

    def _record(
        self,
        method: str,
        params: Params,
        status: int | None,
        description: str = "",
        *,
        applied: bool = True,
    ) -> None:
        self.requests.append(
            Request(
                method=method,
                params=params.values,
                status=status,
                description=description,
                applied=applied,
            )
        )
        self._world.log.stir()
