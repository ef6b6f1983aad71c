"""Which of what was said is meant: about one class or a group's, by one member or by all."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True, kw_only=True)
class OneClass:
    """What was said about this class, whether or not it took place."""

    session_id: str
    member: str | None = None
    """By whom; None for everybody."""

    def where(self, said: str) -> str:
        """The condition for that, on `session` and on the table of what was said."""
        by_member = "" if self.member is None else f" AND {said}.person_id = :member"
        return f"session.id = :session_id{by_member}"

    @property
    def named(self) -> dict[str, object]:
        """The values of the condition."""
        return {"session_id": self.session_id, "member": self.member}


@dataclass(frozen=True, slots=True, kw_only=True)
class ManyClasses:
    """What was said about a group's classes, from a day on if there is one."""

    group_id: str
    member: str | None = None
    since: date | None = None

    def where(self, said: str) -> str:
        """The condition for that, on `session` and on the table of what was said."""
        since = "" if self.since is None else " AND session.local_day >= :since"
        # by their classes rather than by person, who may have been in very many
        return f"""session.group_id = :group_id AND session.cancelled_at IS NULL{since}
        AND (:member IS NULL OR {said}.person_id = :member)"""

    @property
    def named(self) -> dict[str, object]:
        """The values of the condition."""
        since = None if self.since is None else self.since.isoformat()
        return {"group_id": self.group_id, "member": self.member, "since": since}


About = OneClass | ManyClasses
