"""What people have chosen for themselves: scale, language, and when they are asked."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from bot.storage.database import Row, Transaction
from bot.storage.moments import write_moment
from core.effort import Scale


class AskedWhen(StrEnum):
    """When somebody wants to be asked about a class."""

    AFTER = "after"
    """Right after it."""
    EVENING = "evening"
    """At 20:00 of the same day."""
    MORNING = "morning"
    """At 09:00 of the next day."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preferences:
    """What somebody has chosen; the defaults hold for whoever has chosen nothing."""

    language: str | None = None
    """None follows their chat."""
    scale: Scale = Scale.TEN
    asked: AskedWhen = AskedWhen.AFTER
    reminder: bool = True
    quiet_from: int = 21 * 60 + 30
    """Minutes since local midnight from which on they aren't reminded of anything."""
    quiet_until: int = 8 * 60
    """Minutes since local midnight."""
    heart_rate: bool = False
    """Whether the scale comes with words about the heart rate."""


async def keep_preferences(
    tx: Transaction, person_id: str, chosen: Preferences, now: datetime
) -> None:
    """From now on it is as they chose."""
    await tx.execute(
        """
        UPDATE person SET chosen_language = :language, scale = :scale, asked = :asked,
            no_reminder_since = CASE WHEN :reminder = 1 THEN NULL
                ELSE COALESCE(no_reminder_since, :now) END,
            quiet_from = :quiet_from, quiet_until = :quiet_until,
            heart_rate_since = CASE WHEN :heart_rate = 0 THEN NULL
                ELSE COALESCE(heart_rate_since, :now) END
        WHERE id = :id
        """,
        id=person_id,
        language=chosen.language,
        scale=chosen.scale.value,
        asked=chosen.asked.value,
        reminder=int(chosen.reminder),
        quiet_from=chosen.quiet_from,
        quiet_until=chosen.quiet_until,
        heart_rate=int(chosen.heart_rate),
        now=write_moment(now),
    )


def read_preferences(row: Row) -> Preferences:
    """What a row of `person` says of it."""
    return Preferences(
        language=row["chosen_language"],
        scale=Scale(row["scale"]),
        asked=AskedWhen(row["asked"]),
        reminder=row["no_reminder_since"] is None,
        quiet_from=row["quiet_from"],
        quiet_until=row["quiet_until"],
        heart_rate=row["heart_rate_since"] is not None,
    )
