"""Answering a press: once, within 150 seconds, and outside the limits for messages."""

from demo_script.stand_in.params import Params
from demo_script.stand_in.presses import Answer, Press
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.world import Method, World

TOO_OLD = "query is too old and response timeout expired or query ID is invalid"


def answer_press(world: World, params: Params) -> bool:
    """Show the person a line, a box, or nothing but the end of the spinner."""
    press = _open_press(world, params.text("callback_query_id"))
    text, url = params.text("text"), params.text("url")
    if len(text) > world.limits.callback_answer_characters:
        raise bad_request("MESSAGE_TOO_LONG")
    if url and not url.startswith(_links_to_bot(world)):
        raise bad_request("URL_INVALID")  # an answer may open a game or the bot's own chat only
    answer = Answer(
        at=world.now(), text=text, show_alert=params.flag("show_alert"), url=url or None
    )
    press.take(answer)
    chat = world.chats[press.chat_id]
    world.tell("answer", chat, world.bot, text=text, message_id=press.message_id)
    return True


def _open_press(world: World, query_id: str) -> Press:
    press = world.presses.get(query_id)
    if (
        press is None
        or press.answer is not None
        or world.now() - press.at >= world.limits.press_lives
    ):
        raise bad_request(TOO_OLD)
    return press


def _links_to_bot(world: World) -> tuple[str, ...]:
    name = world.bot.username
    return tuple(f"{host}/{name}?start=" for host in ("https://t.me", "http://t.me", "t.me"))


METHODS: dict[str, Method] = {"answerCallbackQuery": answer_press}
