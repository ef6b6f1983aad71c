"""Reading a request in any of the ways the API accepts, and writing its answer."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from aiohttp import web

from demo_script.stand_in.params import ATTACH, Params, Upload
from demo_script.stand_in.refusals import TOO_LARGE, Refusal, bad_request
from demo_script.stand_in.values import Json


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What the bot asked, and what came of it."""

    method: str
    params: Mapping[str, object] = field(repr=False)
    status: int | None
    """HTTP status of the answer; None if the connection was cut instead."""
    description: str = ""
    """Why it was refused; empty if it wasn't."""
    applied: bool = True
    """Whether the API did what was asked."""

    @property
    def accepted(self) -> bool:
        """Whether it was done, and the bot was told so."""
        return self.status == 200 and self.applied and not self.description


async def read_params(request: web.Request, most_bytes: int) -> Params:
    """Parameters from the address, a form, a multipart body or a JSON body; the body wins.

    No file may have more than so many bytes.
    """
    values: dict[str, object] = dict(request.query)
    uploads: dict[str, Upload] = {}
    try:
        if request.content_type == "application/json":
            values |= _object(await request.text())
        else:
            for name, part in (await request.post()).items():
                if isinstance(part, web.FileField):
                    uploads[name] = _upload(part)
                else:
                    values[name] = part
    except web.HTTPRequestEntityTooLarge:
        raise TOO_LARGE from None
    if any(len(upload.content) > most_bytes for upload in uploads.values()):
        raise TOO_LARGE
    told = "".join(map(str, values.values()))
    # A file may stand for the parameter of its own name, or be pointed at from elsewhere.
    values |= {name: ATTACH + name for name in uploads if ATTACH + name not in told}
    return Params(values, uploads)


def success(result: object) -> web.Response:
    """The answer to a request that was done."""
    return _reply(200, {"ok": True, "result": result})


def failure(refusal: Refusal) -> web.Response:
    """The answer to a request that wasn't."""
    body: Json = {
        "ok": False,
        "error_code": refusal.code,
        "description": refusal.description,
    }
    if refusal.parameters:
        body["parameters"] = dict(refusal.parameters)
    return _reply(refusal.code, body)


def _reply(status: int, body: Json) -> web.Response:
    text = json.dumps(body, ensure_ascii=False)
    return web.Response(status=status, text=text, content_type="application/json")


def _object(text: str) -> Json:
    try:
        body = json.loads(text or "{}")
    except ValueError:
        body = None
    if not isinstance(body, dict):
        raise bad_request("can't parse JSON object")
    return body


def _upload(part: web.FileField) -> Upload:
    with part.file as file:
        return Upload(name=part.filename, mime=part.content_type, content=file.read())
