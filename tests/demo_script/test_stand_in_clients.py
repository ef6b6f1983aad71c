"""Two client libraries that know the real API talk to the stand-in over HTTP."""

from collections.abc import AsyncIterator

import aiogram
import pytest
import telegram
from aiogram.client.session.aiohttp import AiohttpSession
from aiogram.client.telegram import TelegramAPIServer
from aiogram.exceptions import TelegramBadRequest, TelegramForbiddenError, TelegramRetryAfter
from aiogram.types import (
    BotCommand,
    BotCommandScopeChat,
    BufferedInputFile,
    InaccessibleMessage,
    InlineKeyboardButton,
    InlineKeyboardMarkup,
    InputMediaPhoto,
    ReplyParameters,
)

from demo_script.stand_in import Person, StandIn
from tests.demo_script.conftest import PushedClock
from tests.demo_script.method_models import check_request
from tests.demo_script.test_stand_in_files import png


@pytest.fixture
async def api(clock: PushedClock) -> AsyncIterator[StandIn]:
    """A stand-in that checks every request against the independent description."""
    async with StandIn(clock.now, validator=check_request) as opened:
        yield opened


@pytest.fixture
async def second(api: StandIn) -> AsyncIterator[aiogram.Bot]:
    """The client of another library."""
    session = AiohttpSession(api=TelegramAPIServer.from_base(api.url))
    async with aiogram.Bot(api.token, session=session).context() as bot:
        yield bot


@pytest.fixture
async def own(api: StandIn) -> AsyncIterator[telegram.Bot]:
    """The client of the library that the bot is built on."""
    base, files = f"{api.url}/bot", f"{api.url}/file/bot"
    async with telegram.Bot(api.token, base_url=base, base_file_url=files) as bot:
        yield bot


def _buttons(*labels: str) -> InlineKeyboardMarkup:
    row = [InlineKeyboardButton(text=label, callback_data=label) for label in labels]
    return InlineKeyboardMarkup(inline_keyboard=[row])


async def test_the_second_client_uses_every_main_method(
    second: aiogram.Bot, api: StandIn, ann: Person, clock: PushedClock
) -> None:
    assert (await second.get_me()).username == api.username
    sent = await second.send_message(
        ann.person_id, "<b>How hard?</b>", parse_mode="HTML", reply_markup=_buttons("7", "8")
    )
    assert sent.html_text == "<b>How hard?</b>"
    edited = await second.edit_message_text(
        "Thanks", chat_id=ann.person_id, message_id=sent.message_id, reply_markup=_buttons("9")
    )
    assert isinstance(edited, aiogram.types.Message)
    await second.edit_message_reply_markup(chat_id=ann.person_id, message_id=sent.message_id)
    clock.push(seconds=10)
    reply = ReplyParameters(message_id=sent.message_id)
    await second.send_message(ann.person_id, "More", reply_parameters=reply)
    await second.send_chat_action(ann.person_id, "typing")
    photo = await second.send_photo(ann.person_id, BufferedInputFile(png(), "chart.png"))
    media = InputMediaPhoto(media=BufferedInputFile(png(9, 9), "chart.png"), caption="Week 2")
    chart = photo.message_id
    changed = await second.edit_message_media(media, chat_id=ann.person_id, message_id=chart)
    assert isinstance(changed, aiogram.types.Message)
    assert changed.photo is not None
    assert changed.photo[-1].width == 9
    clock.push(seconds=10)
    await second.edit_message_caption(caption="Week 3", chat_id=ann.person_id, message_id=chart)
    file = BufferedInputFile(b"a,b", "export.csv")
    document = await second.send_document(ann.person_id, file, caption="Yours")
    assert document.document is not None
    downloaded = await second.download(document.document)
    assert downloaded is not None
    assert downloaded.read() == b"a,b"
    await second.delete_message(ann.person_id, document.message_id)
    assert [m.text for m in ann.messages] == ["/start", "Thanks", "More", "Week 3"]
    assert api.invalid == []


async def test_the_second_client_reads_commands_and_chats(
    second: aiogram.Bot, api: StandIn, ann: Person
) -> None:
    commands = [BotCommand(command="help", description="Help")]
    scope = BotCommandScopeChat(chat_id=ann.person_id)
    await second.set_my_commands(commands, scope=scope, language_code="de")
    read = await second.get_my_commands(scope=scope, language_code="de")
    assert [(one.command, one.description) for one in read] == [("help", "Help")]
    await second.delete_my_commands(scope=scope, language_code="de")
    await second.set_my_description("Rates classes")
    assert (await second.get_my_description()).description == "Rates classes"
    group = api.group("Morning class", [ann])
    assert (await second.get_chat(group.group_id)).title == "Morning class"
    assert (await second.get_chat(ann.person_id)).first_name == "Ann"
    standing = await second.get_chat_member(group.group_id, ann.person_id)
    assert standing.status == "creator"
    group.promote_bot()
    assert len(await second.get_chat_administrators(group.group_id)) == 2
    assert await second.leave_chat(group.group_id)
    assert (await second.get_webhook_info()).url == ""
    assert await second.delete_webhook(drop_pending_updates=True)
    assert api.invalid == []


def _everything_happens(api: StandIn, ann: Person) -> None:
    """Cause every kind of update there is."""
    said = ann.say("/help 7")
    ann.rewrite(said, "8")
    ann.send_document("plan.toml", b"x", caption="Plan", reply_to=said)
    ann.press_raw(said.message_id, "7")
    ann.press_raw(4711, "gone")
    ann.block()
    ann.unblock()
    bea = api.person("Bea", username="bea_b")
    group = api.group("Morning class", [ann])
    group.add(bea)
    group.remove(bea)
    group.promote_bot()
    group.upgrade()
    ann.say("Hello all", group)
    group.remove_bot()


async def test_both_clients_parse_every_kind_of_update(
    second: aiogram.Bot, own: telegram.Bot, api: StandIn, ann: Person
) -> None:
    _everything_happens(api, ann)
    parsed = await second.get_updates()
    kinds = {update.event_type for update in parsed}
    assert kinds == {"message", "edited_message", "callback_query", "my_chat_member"}
    assert not any(update.model_extra for update in parsed)
    presses = [u.callback_query for u in parsed if u.callback_query]
    assert isinstance(presses[1].message, InaccessibleMessage)
    again = await own.get_updates(timeout=0)
    assert [update.update_id for update in again] == [update.update_id for update in parsed]
    assert all(update.effective_chat or update.callback_query for update in again)
    documents = [u.message.document for u in again if u.message and u.message.document]
    assert [d.file_name for d in documents] == ["plan.toml"]


async def test_the_second_client_recognises_refusals(
    second: aiogram.Bot, api: StandIn, ann: Person
) -> None:
    bea = api.person("Bea")
    with pytest.raises(TelegramForbiddenError, match="can't initiate"):
        await second.send_message(bea.person_id, "x")
    with pytest.raises(TelegramBadRequest, match="can't parse entities"):
        await second.send_message(ann.person_id, "<b>", parse_mode="HTML")
    for _ in range(3):
        await second.send_message(ann.person_id, "x")
    with pytest.raises(TelegramRetryAfter) as late:
        await second.send_message(ann.person_id, "x")
    assert late.value.retry_after == 1


async def test_our_own_client_sends_edits_answers_and_fetches(
    own: telegram.Bot, api: StandIn, ann: Person, clock: PushedClock
) -> None:
    buttons = [[telegram.InlineKeyboardButton("7", callback_data="7")]]
    sent = await own.send_message(
        ann.person_id, "<b>Hi</b>", "HTML", reply_markup=telegram.InlineKeyboardMarkup(buttons)
    )
    press = ann.press(ann.last_message, "7")
    update = (await own.get_updates(offset=-1, timeout=0))[0]
    assert update.callback_query is not None
    await update.callback_query.answer("Noted", show_alert=True)
    assert (await press.answered()).text == "Noted"
    await sent.edit_text("Thanks")
    assert ann.last_message.text == "Thanks"
    clock.push(seconds=10)
    document = await own.send_document(ann.person_id, b"x = 1", filename="plan.toml")
    assert document.document is not None
    file = await document.document.get_file()
    assert bytes(await file.download_as_bytearray()) == b"x = 1"
    await own.send_photo(ann.person_id, png(), caption="Week 1")
    commands = [("help", "Help")]
    await own.set_my_commands(commands, telegram.BotCommandScopeChat(ann.person_id))
    assert api.menu(ann) == ("help",)
    assert (await own.get_chat(ann.person_id)).first_name == "Ann"
    assert api.invalid == []


@pytest.mark.parametrize(
    ("prepare", "error"),
    [
        ("stranger", telegram.error.Forbidden),
        ("blocked", telegram.error.Forbidden),
        ("upgraded", telegram.error.ChatMigrated),
        ("busy", telegram.error.RetryAfter),
        ("too long", telegram.error.BadRequest),
    ],
)
async def test_our_own_client_recognises_refusals(
    own: telegram.Bot,
    api: StandIn,
    ann: Person,
    monkeypatch: pytest.MonkeyPatch,
    prepare: str,
    error: type[Exception],
) -> None:
    monkeypatch.setenv("PTB_TIMEDELTA", "true")  # else its RetryAfter warns of the future
    chat_id, text = ann.person_id, "x"
    if prepare == "stranger":
        chat_id = api.person("Bea").person_id
    elif prepare == "blocked":
        ann.block()
    elif prepare == "upgraded":
        group = api.group("Morning class", [ann])
        chat_id = group.group_id
        group.upgrade()
    elif prepare == "busy":
        for _ in range(3):
            await own.send_message(chat_id, "x")
    else:
        text = "x" * 4097
    with pytest.raises(error):
        await own.send_message(chat_id, text)


async def test_an_invalid_request_is_noted(own: telegram.Bot, api: StandIn, ann: Person) -> None:
    with pytest.raises(telegram.error.BadRequest, match=r"(?i)not a valid sendMessage"):
        await own.send_message(ann.person_id, "x", api_kwargs={"parsemode": "HTML"})
    assert api.invalid == ["sendMessage: unknown: sendMessage.parsemode"]
