"""Styled stretches of text, and the way back from them to HTML."""

import html
from collections.abc import Iterable
from dataclasses import dataclass

TAGS = {
    "bold": "b",
    "italic": "i",
    "underline": "u",
    "strikethrough": "s",
    "spoiler": "tg-spoiler",
    "code": "code",
    "pre": "pre",
    "blockquote": "blockquote",
}


def units(text: str) -> int:
    """Length in UTF-16 code units: what the API means by a character."""
    return len(text.encode("utf-16-le", "surrogatepass")) // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Entity:
    """A styled stretch of text; offset and length in UTF-16 code units."""

    kind: str
    offset: int
    length: int
    url: str | None = None
    """Where a `text_link` leads; None for every other kind."""
    language: str | None = None
    """Programming language of a `pre`; None where none was given."""

    def tags(self) -> tuple[str, str] | None:
        """The opening and closing tag; None for what apps mark by themselves, such as commands."""
        if self.kind == "text_link":
            return f'<a href="{html.escape(self.url or "")}">', "</a>"
        name = TAGS.get(self.kind)
        return (f"<{name}>", f"</{name}>") if name else None


def to_html(text: str, entities: Iterable[Entity]) -> str:
    """The text as HTML, ready to compare with what a bot meant to send."""
    inserts: list[tuple[int, int, int, str]] = []  # place, closing before opening, nesting, tag
    for order, entity in enumerate(entities):
        tags = entity.tags()
        if tags is not None:
            inserts.append((entity.offset, 1, order, tags[0]))
            inserts.append((entity.offset + entity.length, 0, -order, tags[1]))
    wide = text.encode("utf-16-le")
    pieces, at = [], 0
    for place, _closing, _order, tag in sorted(inserts):
        pieces += [_escaped(wide[at * 2 : place * 2]), tag]
        at = place
    return "".join([*pieces, _escaped(wide[at * 2 :])])


def _escaped(wide: bytes) -> str:
    return html.escape(wide.decode("utf-16-le"), quote=False)
