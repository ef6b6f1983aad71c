"""What a bot gets to see in a group: privacy mode, which is on for every new bot."""

from demo_script.stand_in.values import Message
from demo_script.stand_in.world import Chat, World


def bot_sees(world: World, chat: Chat, message: Message) -> bool:
    """Whether this message of a person reaches the bot."""
    if chat.kind == "private":
        return True
    if chat.bot_status in ("left", "kicked"):
        return False
    if chat.bot_status == "administrator" or message.service:
        return True
    return _is_reply_to_bot(world, chat, message) or _is_command_for_bot(world, chat, message)


def _is_reply_to_bot(world: World, chat: Chat, message: Message) -> bool:
    replied = chat.messages.get(message.reply_to or 0)
    return replied is not None and replied.sender_id == world.bot.account_id


def _is_command_for_bot(world: World, chat: Chat, message: Message) -> bool:
    """`/command@bot` always; plain `/command` if the bot was the last bot to write here."""
    if not any(entity.kind == "bot_command" for entity in message.entities):
        return False
    command, _, addressee = message.text.split()[0].partition("@")
    if not command.startswith("/"):
        return False
    return addressee.lower() == str(world.bot.username).lower() if addressee else chat.bot_spoke
