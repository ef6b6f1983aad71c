"""Texts with their styles: what a bot may send, and what an app marks by itself."""

import re

from demo_script.stand_in.entities import Entity, units
from demo_script.stand_in.limits import Limits
from demo_script.stand_in.markup import parse_html
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Json

MARKED = re.compile(  # what apps and the server mark without being asked
    r"(?<![\w/])(?P<bot_command>/[A-Za-z0-9_]{1,64}(?:@\w{3,32})?)(?!\w)"
    r"|(?P<url>https?://\S+)"
    r"|(?<!\w)(?P<mention>@\w{3,32})"
)


def styled_text(params: Params, limits: Limits) -> tuple[str, tuple[Entity, ...]]:
    """The text of a message to send; the limit counts what is left after parsing."""
    text, entities = _parse(params, "text", "entities", limits)
    if not text.strip():
        raise bad_request("message text is empty")
    if units(text) > limits.text_units:
        raise bad_request("message is too long")
    return text, entities


def styled_caption(params: Params, limits: Limits) -> tuple[str, tuple[Entity, ...]]:
    """The text under an attachment; none is fine."""
    text, entities = _parse(params, "caption", "caption_entities", limits)
    if units(text) > limits.caption_units:
        raise bad_request("message caption is too long")
    return text, entities


def marked(text: str) -> tuple[Entity, ...]:
    """The commands, links and mentions in what a person typed: clients find commands by these."""
    return tuple(
        Entity(
            kind=str(match.lastgroup),
            offset=units(text[: match.start()]),
            length=units(match[0]),
        )
        for match in MARKED.finditer(text)
    )


def _parse(
    params: Params, name: str, entities_name: str, limits: Limits
) -> tuple[str, tuple[Entity, ...]]:
    text, mode = params.text(name), params.text("parse_mode").lower()
    if mode == "html":
        text, entities = parse_html(text)
    elif mode in ("", "none"):
        entities = tuple(_entity(raw) for raw in params.parsed(entities_name) or ())
    else:  # the real API also knows two kinds of Markdown; the stand-in doesn't
        raise bad_request("unsupported parse_mode")
    if len(entities) > limits.entities:
        raise bad_request("ENTITIES_TOO_LONG")
    return text, entities


def _entity(raw: Json) -> Entity:
    return Entity(
        kind=str(raw["type"]),
        offset=int(raw["offset"]),
        length=int(raw["length"]),
        url=raw.get("url"),
        language=raw.get("language"),
    )
