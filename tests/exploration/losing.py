"""What must not be gone after one press that answers no question."""

from tests.exploration.standstill import Standstill

LASTING = {
    "group": "SELECT id FROM training_group",
    "plan": "SELECT id FROM plan",
    "class": "SELECT id FROM session WHERE cancelled_at IS NULL",
    "class on its day": "SELECT id, starts_at FROM session WHERE cancelled_at IS NULL",
    "member": "SELECT group_id, person_id FROM membership WHERE left_at IS NULL",
    "instructor": "SELECT group_id, person_id FROM leading",
    "note": "SELECT id FROM note",
    "answer": "SELECT prompt_id, question FROM answer",
    "symptom": "SELECT id FROM symptom",
    "calendar": "SELECT group_id FROM calendar",
    "draft": "SELECT id FROM draft",
}
"""What a person would miss, with how to count it."""

Kept = dict[str, frozenset[tuple[object, ...]]]


def kept(still: Standstill) -> Kept:
    """All that is there now."""
    return {what: frozenset(still.connection.rows(sql)) for what, sql in LASTING.items()}


def lost(before: Kept, after: Kept) -> list[str]:
    """What was there, and is no more."""
    return [what for what in LASTING if before[what] - after[what]]
