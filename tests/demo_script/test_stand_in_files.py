"""Files: up in a message, down by a path, within the sizes."""

import json
import struct
import zlib
from typing import Any

import aiohttp
import pytest

from demo_script.stand_in import Limits, Person, StandIn
from tests.demo_script.conftest import Caller, PushedClock


def png(width: int = 3, height: int = 2) -> bytes:
    """A real, black picture."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        check = zlib.crc32(kind + body)
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", check)

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\0" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        (chunk(b"IHDR", header), chunk(b"IDAT", rows), chunk(b"IEND", b""))
    )


async def upload(
    call: Caller, method: str, part: str, content: bytes, **fields: object
) -> dict[str, Any]:
    """A multipart request, as client libraries send it."""
    form = aiohttp.FormData({name: str(value) for name, value in fields.items()})
    form.add_field(part, content, filename="plan.toml", content_type="text/plain")
    url = f"{call.api.url}/bot{call.api.token}/{method}"
    async with call.session.post(url, data=form) as response:
        body: dict[str, Any] = await response.json()
        return body


async def test_a_document_goes_down_and_a_caption_with_it(call: Caller, ann: Person) -> None:
    body = await upload(
        call,
        "sendDocument",
        "document",
        b"x = 1",
        chat_id=ann.person_id,
        caption="<b>Plan</b>",
        parse_mode="HTML",
    )
    assert body["result"]["document"]["file_name"] == "plan.toml"
    assert body["result"]["document"]["file_size"] == 5
    assert body["result"]["caption_entities"] == [{"type": "bold", "offset": 0, "length": 4}]
    assert (ann.last_message.document, ann.last_message.text) == (b"x = 1", "Plan")


async def test_what_a_person_sends_can_be_fetched(call: Caller, ann: Person, api: StandIn) -> None:
    ann.send_document("plan.toml", b"x = 1", caption="My plan")
    message = (await call("getUpdates"))[-1]["message"]
    assert message["caption"] == "My plan"
    file = await call("getFile", file_id=message["document"]["file_id"])
    assert file["file_path"].endswith(".toml")
    url = f"{api.url}/file/bot{api.token}/{file['file_path']}"
    async with call.session.get(url) as response:
        assert await response.read() == b"x = 1"
    for wrong in (url + "x", url.replace(api.token, "1:x")):
        async with call.session.get(wrong) as response:
            assert response.status in (401, 404)
    refusal = await call.refused("getFile", file_id="nonsense")
    assert refusal == "400 Bad Request: wrong file_id or the file is temporarily unavailable"


async def test_a_file_can_be_sent_again_by_its_id(call: Caller, ann: Person) -> None:
    body = await upload(call, "sendDocument", "document", b"x", chat_id=ann.person_id)
    file_id = body["result"]["document"]["file_id"]
    await call("sendDocument", chat_id=ann.person_id, document=file_id)
    assert ann.last_message.document == b"x"
    assert await call.refused("sendPhoto", chat_id=ann.person_id, photo=file_id) == (
        "400 Bad Request: wrong file identifier/HTTP URL specified"
    )


async def test_pictures_must_be_pictures_and_keep_their_size(call: Caller, ann: Person) -> None:
    body = await upload(call, "sendPhoto", "photo", png(30, 20), chat_id=ann.person_id)
    size = body["result"]["photo"][-1]
    assert (size["width"], size["height"]) == (30, 20)
    jpeg = b"\xff\xd8\xff\xe0\x00\x04ab\xff\xc0\x00\x0b\x08\x00\x07\x00\x09" + b"\0" * 6
    body = await upload(call, "sendPhoto", "photo", jpeg, chat_id=ann.person_id)
    assert (body["result"]["photo"][0]["width"], body["result"]["photo"][0]["height"]) == (9, 7)
    body = await upload(call, "sendPhoto", "photo", b"no picture", chat_id=ann.person_id)
    assert body["description"] == "Bad Request: IMAGE_PROCESS_FAILED"


async def test_attachment_and_caption_can_be_edited(call: Caller, ann: Person) -> None:
    body = await upload(call, "sendPhoto", "photo", png(), chat_id=ann.person_id)
    where = {"chat_id": ann.person_id, "message_id": body["result"]["message_id"]}
    await call("editMessageCaption", **where, caption="Week 2")
    assert ann.last_message.text == "Week 2"
    media = {"type": "photo", "media": "attach://new", "caption": "<i>Week 3</i>"}
    media["parse_mode"] = "HTML"
    picture = png(5, 5)
    body = await upload(call, "editMessageMedia", "new", picture, media=json.dumps(media), **where)
    assert body["ok"], body
    assert (ann.last_message.document, ann.last_message.html) == (picture, "<i>Week 3</i>")
    assert await call.refused("editMessageText", **where, text="x") == (
        "400 Bad Request: there is no text in the message to edit"
    )


@pytest.mark.parametrize(
    ("params", "why"),
    [
        ({}, "there is no document in the request"),
        ({"document": "nonsense"}, "wrong file identifier/HTTP URL specified"),
        ({"document": "https://example.org/x"}, "failed to get HTTP URL content"),
        ({"document": "x", "caption": "x" * 1025}, "message caption is too long"),
    ],
)
async def test_documents_that_are_refused(
    call: Caller, ann: Person, params: dict[str, Any], why: str
) -> None:
    refusal = await call.refused("sendDocument", chat_id=ann.person_id, **params)
    assert refusal == f"400 Bad Request: {why}"


async def test_an_empty_file_is_refused(call: Caller, ann: Person) -> None:
    body = await upload(call, "sendDocument", "document", b"", chat_id=ann.person_id)
    assert body["description"] == "Bad Request: file must be non-empty"


async def test_big_files_are_refused_in_both_directions(clock: PushedClock) -> None:
    limits = Limits(download_bytes=1000, upload_bytes=2000)
    async with StandIn(clock.now, limits=limits) as api, aiohttp.ClientSession() as session:
        call, ann = Caller(api, session), api.person("Ann")
        ann.send_document("big.csv", b"x" * 1001)
        document = (await call("getUpdates"))[-1]["message"]["document"]
        refusal = await call.refused("getFile", file_id=document["file_id"])
        assert refusal == "400 Bad Request: file is too big"
        body = await upload(call, "sendDocument", "document", b"x" * 2000, chat_id=ann.person_id)
        assert body["ok"]
        body = await upload(call, "sendDocument", "document", b"x" * 2001, chat_id=ann.person_id)
        assert (body["error_code"], body["description"]) == (413, "Request Entity Too Large")


def test_the_documented_sizes() -> None:
    assert Limits().download_bytes == 20 * 1024 * 1024
    assert Limits().upload_bytes == 50 * 1024 * 1024
