"""The stand-in of the chat service without a line in between: asked and answered in place."""

import json
from collections import Counter
from typing import Any
from urllib.parse import urlsplit

from telegram.request import BaseRequest, RequestData

from demo_script.stand_in.methods import METHODS
from demo_script.stand_in.params import ATTACH, Params, Upload
from demo_script.stand_in.refusals import NOT_FOUND, Refusal
from demo_script.stand_in.server import Validator
from demo_script.stand_in.world import World
from tests.demo_script.method_models import InvalidRequest


class StraightLine(BaseRequest):
    """The chat library's transport, right into the stand-in's table of methods."""

    __slots__ = ("_checked", "_validator", "_world", "asked", "refused")

    def __init__(self, world: World, validator: Validator) -> None:
        self._world = world
        self._validator = validator
        self._checked: set[tuple[object, ...]] = set()
        self.asked: Counter[str] = Counter()
        """How often each method was called."""
        self.refused: list[str] = []
        """What the service had against a call, apart from "not modified"."""

    @property
    def read_timeout(self) -> float | None:
        """Nothing is waited for."""
        return None

    async def initialize(self) -> None:
        """There is nothing to open."""

    async def shutdown(self) -> None:
        """There is nothing to close."""

    async def do_request(
        self,
        url: str,
        method: str,
        request_data: RequestData | None = None,
        *_timeouts: Any,
        **_more: Any,
    ) -> tuple[int, bytes]:
        """The answer's status and body, as over the line."""
        path = urlsplit(url).path
        if path.startswith("/file/"):
            return self._download(path)
        name = path.rpartition("/")[2]
        self.asked[name] += 1
        try:
            return 200, _body(ok=True, result=self._do(name, _params(request_data)))
        except Refusal as refusal:
            if "not modified" not in refusal.description:
                self.refused.append(f"{name}: {refusal.description}")
            return refusal.code, _body(
                ok=False,
                error_code=refusal.code,
                description=refusal.description,
                parameters=dict(refusal.parameters or {}),
            )

    def _do(self, name: str, params: Params) -> object:
        self._check(name, params)
        known = METHODS.get(name.lower())
        if known is None:
            raise NOT_FOUND
        return known(self._world, params)

    def _check(self, name: str, params: Params) -> None:
        """The same call is looked at once: screens come again and again."""
        call = (name, *sorted((key, str(value)) for key, value in params.values.items()))
        if call not in self._checked:
            try:
                self._validator(name, params.values)
            except InvalidRequest as wrong:
                self.refused.append(f"{name}: {wrong}")
            self._checked.add(call)

    def _download(self, path: str) -> tuple[int, bytes]:
        file = self._world.files.by_path("/".join(path.split("/")[3:]))
        return (404, b"") if file is None else (200, file.content)


def _params(request_data: RequestData | None) -> Params:
    if request_data is None:
        return Params({})
    form = request_data.contains_files
    values: dict[str, object] = dict(
        request_data.json_parameters if form else request_data.parameters
    )
    uploads = {
        field: Upload(name=name, mime=mime, content=_bytes(content))
        for field, (name, content, mime) in (request_data.multipart_data or {}).items()
    }
    told = "".join(map(str, values.values()))
    values |= {name: ATTACH + name for name in uploads if ATTACH + name not in told}
    return Params(values, uploads)


def _bytes(content: Any) -> bytes:
    return content if isinstance(content, bytes) else bytes(content.read())


def _body(**parts: object) -> bytes:
    return json.dumps(parts).encode()
