"""Whether an update has the shape that the chat API documents, as far as we read it."""

from collections.abc import Mapping

TYPES: Mapping[str, type] = {
    "message_id": int, "date": int, "edit_date": int, "text": str, "caption": str, "data": str,
    "first_name": str, "last_name": str, "username": str, "language_code": str, "title": str,
    "type": str, "status": str, "file_id": str, "file_unique_id": str, "file_name": str,
    "file_size": int, "is_bot": bool, "migrate_to_chat_id": int, "migrate_from_chat_id": int,
    "offset": int, "length": int, "chat_instance": str, "mime_type": str,
}  # fmt: skip
OBJECTS: Mapping[str, Mapping[str, type]] = {
    "message": {"message_id": int, "date": int, "chat": dict},
    "edited_message": {"message_id": int, "date": int, "chat": dict},
    "reply_to_message": {"message_id": int, "date": int, "chat": dict},
    "from": {"id": int, "first_name": str, "is_bot": bool},
    "user": {"id": int, "first_name": str, "is_bot": bool},
    "left_chat_member": {"id": int, "first_name": str, "is_bot": bool},
    "chat": {"id": int, "type": str},
    "document": {"file_id": str, "file_unique_id": str},
    "callback_query": {"id": str, "from": dict},
    "my_chat_member": {
        "chat": dict,
        "from": dict,
        "old_chat_member": dict,
        "new_chat_member": dict,
    },
    "chat_member": {"chat": dict, "from": dict, "old_chat_member": dict, "new_chat_member": dict},
    "new_chat_member": {"user": dict, "status": str},
    "old_chat_member": {"user": dict, "status": str},
}
"""What must be in an object of this name."""
PLAIN = ("language_code", "username", "type", "status", "file_id", "file_unique_id")
"""Never more than ASCII."""
LISTS = ("entities", "caption_entities", "new_chat_members", "photo")
LARGEST = 2**63
"""No number beyond that is anybody's."""


def is_sound(part: object, name: str = "") -> bool:
    """Whether it is what its name says, with all that is in it; the unknown may be anything."""
    if part is None:
        return True
    if name in TYPES and not _is_a(part, TYPES[name]):
        return False
    if name in PLAIN and not str(part).isascii():
        return False
    if name in LISTS and not isinstance(part, list):
        return False
    if name in OBJECTS and not _has(part, OBJECTS[name]):
        return False
    if isinstance(part, dict):
        return all(is_sound(each, key) for key, each in part.items())
    if isinstance(part, list):
        return name not in LISTS or all(isinstance(e, dict) and is_sound(e) for e in part)
    return True


def _has(part: object, needed: Mapping[str, type]) -> bool:
    return isinstance(part, dict) and all(_is_a(part.get(n), kind) for n, kind in needed.items())


def _is_a(value: object, kind: type) -> bool:
    if kind is int:
        return type(value) is int and abs(value) < LARGEST
    return isinstance(value, kind)
