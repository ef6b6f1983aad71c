"""The buttons under a message: what shapes and sizes the platform takes."""

from demo_script.stand_in.limits import Limits
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Button, Json, Keyboard

# A button must do one of these; text alone is for the keyboards that replace the letters.
ACTIONS = (
    "callback_data",
    "url",
    "web_app",
    "login_url",
    "switch_inline_query",
    "switch_inline_query_current_chat",
    "switch_inline_query_chosen_chat",
    "copy_text",
    "callback_game",
    "pay",
)
OTHER_MARKUPS = ("keyboard", "remove_keyboard", "force_reply")  # taken, and shown to nobody


def inline_keyboard(params: Params, limits: Limits) -> Keyboard:
    """The buttons that came with a request; none at all is an empty keyboard."""
    markup = params.parsed("reply_markup")
    if markup is None:
        return ()
    if not isinstance(markup, dict):
        raise bad_request("object expected as reply markup")
    if any(name in markup for name in OTHER_MARKUPS):
        return ()
    rows = markup.get("inline_keyboard", [])
    if not isinstance(rows, list) or not all(isinstance(row, list) for row in rows):
        raise bad_request("can't parse reply keyboard markup JSON object")
    widest = max((len(row) for row in rows), default=0)
    # Phones squeeze a ninth button in a row to nothing; a hundred is the most in all.
    if widest > limits.buttons_in_a_row or sum(map(len, rows)) > limits.buttons:
        raise bad_request("reply markup is too long")
    return tuple(tuple(_button(raw, limits) for raw in row) for row in rows if row)


def _button(raw: Json, limits: Limits) -> Button:
    if not isinstance(raw.get("text"), str) or not raw["text"]:
        raise bad_request(
            'can\'t parse inline keyboard button: Field "text" must be of type String'
        )
    if not any(action in raw for action in ACTIONS):
        raise bad_request(
            "can't parse inline keyboard button: Text buttons are unallowed in the inline keyboard"
        )
    data, url = raw.get("callback_data"), raw.get("url")
    if data is not None and not 1 <= len(str(data).encode()) <= limits.callback_data_bytes:
        raise bad_request("BUTTON_DATA_INVALID")
    if url is not None and not _is_link(str(url)):
        raise bad_request("BUTTON_URL_INVALID")
    return Button(label=raw["text"], data=data, url=url, raw=raw)


def _is_link(url: str) -> bool:
    return url.startswith(("http://", "https://", "tg://")) or "." in url
