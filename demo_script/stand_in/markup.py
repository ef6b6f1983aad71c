"""The HTML style of message texts, parsed as strictly as the platform does it."""

import re
from dataclasses import dataclass

from demo_script.stand_in.entities import Entity, units
from demo_script.stand_in.refusals import Refusal, bad_request

KINDS = {
    "b": "bold",
    "strong": "bold",
    "i": "italic",
    "em": "italic",
    "u": "underline",
    "ins": "underline",
    "s": "strikethrough",
    "strike": "strikethrough",
    "del": "strikethrough",
    "tg-spoiler": "spoiler",
    "span": "spoiler",
    "a": "text_link",
    "code": "code",
    "pre": "pre",
    "blockquote": "blockquote",
    "tg-emoji": "custom_emoji",
}
NAMED = {"lt": "<", "gt": ">", "amp": "&", "quot": '"'}  # no others: `&nbsp;` stays as it is
REFERENCE = re.compile(r"&(?:#x(?P<hex>[0-9a-fA-F]{1,6})|#(?P<dec>\d{1,7})|(?P<name>[a-zA-Z]+));?")
ATTRIBUTE = re.compile(
    r"""\s*(?P<name>[^\s=>]+)\s*(?:=\s*(?:"(?P<double>[^"]*)"|'(?P<single>[^']*)'|(?P<bare>[\w.-]+)))?"""
)


@dataclass(frozen=True, slots=True)
class _Open:
    """A tag that waits for its end."""

    tag: str
    argument: str
    offset: int
    characters: int


class _Parser:
    """Reads left to right; `text` grows while tags open and close."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.text = ""
        self.found: list[Entity] = []
        self.open: list[_Open] = []

    def run(self) -> tuple[str, tuple[Entity, ...]]:
        at = 0
        while at < len(self.source):
            tag = self.source.find("<", at)
            if tag < 0:
                tag = len(self.source)
            self.text += REFERENCE.sub(_decode, self.source[at:tag])
            if tag == len(self.source):
                break
            closes = self.source.startswith("</", tag)
            at = self._close(tag) if closes else self._start(tag)
        if self.open:
            name = self.open[-1].tag
            raise _unparsable(f'Can\'t find end tag corresponding to start tag "{name}"')
        self.found.reverse()  # what was opened first closed last, and comes first again
        return self.text, tuple(sorted(self.found, key=lambda e: (e.offset, -e.length)))

    def _start(self, begin: int) -> int:
        end_of_name = re.compile(r"[\s>]").search(self.source, begin)
        if end_of_name is None:
            raise _unparsable(f"Unclosed start tag{self._where(begin)}")
        tag = self.source[begin + 1 : end_of_name.start()].lower()
        if tag not in KINDS:
            raise _unparsable(f'Unsupported start tag "{tag}"{self._where(begin)}')
        argument, after = self._attributes(tag, end_of_name.start(), begin)
        if tag == "span" and argument != "tg-spoiler":
            raise _unparsable(f'Tag "span" must have class "tg-spoiler"{self._where(begin)}')
        self.open.append(_Open(tag, argument, units(self.text), len(self.text)))
        return after

    def _attributes(self, tag: str, at: int, begin: int) -> tuple[str, int]:
        """The one attribute that matters for this tag, and where the tag is over."""
        wanted = {"a": "href", "code": "class", "span": "class", "tg-emoji": "emoji-id"}.get(tag)
        argument = ""
        while True:
            rest = re.compile(r"\s*>").match(self.source, at)
            if rest:
                return argument, rest.end()
            attribute = ATTRIBUTE.match(self.source, at)
            if attribute is None:
                raise _unparsable(f"Unclosed start tag{self._where(begin)}")
            value = attribute["double"] or attribute["single"] or attribute["bare"]
            if value is None and re.compile(r"\s*=").match(self.source, attribute.end()):
                raise _unparsable(f"Unclosed start tag{self._where(begin)}")
            if value is None and (tag, attribute["name"]) != ("blockquote", "expandable"):
                raise _unparsable(
                    "Expected equal sign in declaration of an attribute "
                    f'of the tag "{tag}"{self._where(begin)}'
                )
            if attribute["name"] == wanted:
                argument = REFERENCE.sub(_decode, value or "")
            at = attribute.end()

    def _close(self, begin: int) -> int:
        if not self.open:
            raise _unparsable(f"Unexpected end tag{self._where(begin)}")
        end = re.compile(r"</([^\s>]*)\s*>").match(self.source, begin)
        if end is None:
            raise _unparsable(f"Unclosed end tag{self._where(begin)}")
        opened, name = self.open.pop(), end[1].lower()
        if name not in ("", opened.tag):
            raise _unparsable(
                f'Unmatched end tag{self._where(begin)}, expected "</{opened.tag}>", '
                f'found "</{name}>"'
            )
        length = units(self.text) - opened.offset
        if length:  # an empty pair of tags leaves nothing behind
            self._add(opened, length)
        return end.end()

    def _add(self, opened: _Open, length: int) -> None:
        argument = opened.argument
        url = language = None
        if opened.tag == "a":
            url = argument or self.text[opened.characters :]
            if "." not in url and "://" not in url:
                return  # not a link at all: the text stays, the style goes
        if opened.tag == "code" and argument.startswith("language-"):
            language = argument.removeprefix("language-")
        kind, last = KINDS[opened.tag], self.found[-1] if self.found else None
        if opened.tag == "pre" and last and (last.kind, last.length) == ("code", length):
            language = last.language  # <pre><code class="language-x"> is one entity
            self.found.pop()
        self.found.append(
            Entity(kind=kind, offset=opened.offset, length=length, url=url, language=language)
        )

    def _where(self, at: int) -> str:
        return f" at byte offset {len(self.source[:at].encode())}"


def parse_html(source: str) -> tuple[str, tuple[Entity, ...]]:
    """The plain text and its entities; Refusal with the platform's own words if it's malformed."""
    return _Parser(source).run()


def _decode(reference: re.Match[str]) -> str:
    """The character behind `&lt;` or `&#8211;`; the reference itself if it names none."""
    if reference["name"]:
        return NAMED.get(reference["name"], reference[0])
    number = int(reference["hex"], 16) if reference["hex"] else int(reference["dec"])
    return chr(number) if 0 < number < 0x10FFFF else reference[0]


def _unparsable(why: str) -> Refusal:
    return bad_request(f"can't parse entities: {why}")
