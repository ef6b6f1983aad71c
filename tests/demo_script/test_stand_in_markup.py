"""HTML styles: what is understood, and the exact words of refusal."""

import pytest

from demo_script.stand_in import Entity
from demo_script.stand_in.entities import to_html
from demo_script.stand_in.markup import parse_html
from demo_script.stand_in.refusals import Refusal
from demo_script.stand_in.styled import marked


@pytest.mark.parametrize(
    ("source", "text", "entities"),
    [
        ("plain", "plain", []),
        ("&lt;7&gt; &amp;&quot; &#8211; &#x1F600;", '<7> &" – 😀', []),
        ("&nbsp; & &copy", "&nbsp; & &copy", []),  # no reference: stays, without complaint
        ("<b>a</b><i>b</i>", "ab", [("bold", 0, 1), ("italic", 1, 1)]),
        ("<b>a<i>b</i></b>", "ab", [("bold", 0, 2), ("italic", 1, 1)]),
        ("<STRONG>a</strong >", "a", [("bold", 0, 1)]),
        ("😀<u>b</u>", "😀b", [("underline", 2, 1)]),
        ("<s>x</s><del>y</>", "xy", [("strikethrough", 0, 1), ("strikethrough", 1, 1)]),
        ("<span class='tg-spoiler'>x</span>", "x", [("spoiler", 0, 1)]),
        ("<tg-spoiler>x</tg-spoiler>", "x", [("spoiler", 0, 1)]),
        ("<blockquote expandable>x</blockquote>", "x", [("blockquote", 0, 1)]),
        ("<b></b>x", "x", []),
        ("<a href='nonsense'>x</a>", "x", []),
        ("<pre>x</pre><code>y</code>", "xy", [("pre", 0, 1), ("code", 1, 1)]),
    ],
)
def test_styles_that_are_understood(
    source: str, text: str, entities: list[tuple[str, int, int]]
) -> None:
    plain, found = parse_html(source)
    assert plain == text
    assert [(e.kind, e.offset, e.length) for e in found] == entities


def test_links_and_languages_are_kept() -> None:
    _, (link,) = parse_html('<a href="https://example.org/?a=1&amp;b=2">x</a>')
    assert link.url == "https://example.org/?a=1&b=2"
    _, (bare,) = parse_html("<a>example.org</a>")
    assert bare.url == "example.org"
    _, (code,) = parse_html('<pre><code class="language-python">x</code></pre>')
    assert (code.kind, code.language) == ("pre", "python")


@pytest.mark.parametrize(
    ("source", "why"),
    [
        ("é<p>x</p>", 'Unsupported start tag "p" at byte offset 2'),
        ("2 < 3", 'Unsupported start tag "" at byte offset 2'),
        ("<br>", 'Unsupported start tag "br" at byte offset 0'),
        ("I <3", "Unclosed start tag at byte offset 2"),
        ('<a href="x', "Unclosed start tag at byte offset 0"),
        ("<b>x", 'Can\'t find end tag corresponding to start tag "b"'),
        ("x</b>", "Unexpected end tag at byte offset 1"),
        ("<b>x</b", "Unclosed end tag at byte offset 4"),
        (
            "<b>x<i>y</b></i>",
            'Unmatched end tag at byte offset 8, expected "</i>", found "</b>"',
        ),
        ("<span>x</span>", 'Tag "span" must have class "tg-spoiler" at byte offset 0'),
        (
            "<a href>x</a>",
            'Expected equal sign in declaration of an attribute of the tag "a" at byte offset 0',
        ),
    ],
)
def test_styles_that_are_refused(source: str, why: str) -> None:
    with pytest.raises(Refusal) as refused:
        parse_html(source)
    assert refused.value.description == f"Bad Request: can't parse entities: {why}"


@pytest.mark.parametrize(
    "source",
    [
        "<b>a<i>b</i></b>c",
        "<b><i>ab</i></b>",
        "<u>a</u><s>b</s> &lt;7&gt; &amp; 😀<code>x</code>",
        '<a href="https://example.org/?a=1&amp;b=2">😀</a>',
    ],
)
def test_what_was_parsed_can_be_written_again(source: str) -> None:
    assert to_html(*parse_html(source)) == source


def test_commands_links_and_mentions_are_marked_by_the_app() -> None:
    text = "/start 😀 @ann_lee https://example.org/a 7/10 and/or a@b"
    found = [(e.kind, e.offset, e.length) for e in marked(text)]
    assert found == [("bot_command", 0, 6), ("mention", 10, 8), ("url", 19, 21)]
    assert marked("/variant@class_bot x") == (Entity(kind="bot_command", offset=0, length=18),)
