"""The bot itself: who it is, what it says of itself, and that it has no webhook."""

from functools import partial

from demo_script.stand_in import shapes
from demo_script.stand_in.params import Params
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import Method, World

LONGEST = {"name": 64, "description": 512, "short_description": 120}


def get_me(world: World, _params: Params) -> Json:
    """The bot's own account, with privacy mode on."""
    return shapes.user(world.bot) | {
        "can_join_groups": True,
        "can_read_all_group_messages": False,
        "supports_inline_queries": False,
        "can_connect_to_business": False,
        "has_main_web_app": False,
    }


def set_about(what: str, world: World, params: Params) -> bool:
    """Set the name, the description or the short one, for one language or for all others."""
    text = params.text(what)
    if len(text) > LONGEST[what]:
        raise bad_request(f"bot {what.replace('_', ' ')} is too long")
    world.about[f"{what} {params.text('language_code')}"] = text
    return True


def get_about(what: str, world: World, params: Params) -> Json:
    """The text for this language, or the one for all others."""
    mine, general = f"{what} {params.text('language_code')}", f"{what} "
    return {what: world.about.get(mine) or world.about.get(general, "")}


def delete_webhook(world: World, params: Params) -> bool:
    """There never is one; but what waits can be dropped this way."""
    if params.flag("drop_pending_updates"):
        world.updates.drop_all()
    return True


def get_webhook_info(world: World, _params: Params) -> Json:
    """No webhook; and how many updates wait."""
    return {
        "url": "",
        "has_custom_certificate": False,
        "pending_update_count": world.updates.pending,
    }


METHODS: dict[str, Method] = {
    "getMe": get_me,
    "deleteWebhook": delete_webhook,
    "getWebhookInfo": get_webhook_info,
    "setMyName": partial(set_about, "name"),
    "getMyName": partial(get_about, "name"),
    "setMyDescription": partial(set_about, "description"),
    "getMyDescription": partial(get_about, "description"),
    "setMyShortDescription": partial(set_about, "short_description"),
    "getMyShortDescription": partial(get_about, "short_description"),
}
