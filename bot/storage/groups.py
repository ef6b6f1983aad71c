"""Groups with their plans: who leads them, and what was planned when."""

from dataclasses import dataclass
from datetime import datetime

from bot.storage.database import Row, Transaction
from bot.storage.moments import write_moment
from bot.storage.names import name_row
from bot.storage.people import Person, read_person


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The people who train together, by the name they see."""

    id: str
    name: str
    plan_id: str
    """The plan in force from now on."""


async def make_group(
    tx: Transaction, leader: Person, name: str, document: str, reason: str, now: datetime
) -> Group:
    """A new group led by this person; the same reason makes it once."""
    group_id = name_row("group", leader.id, reason)
    plan_id = name_row("plan", group_id, reason)
    await tx.execute(
        """
        INSERT INTO training_group (id, name, made_at, plan_id)
        VALUES (:id, :name, :now, :plan_id) ON CONFLICT (id) DO NOTHING
        """,
        id=group_id,
        name=name,
        plan_id=plan_id,
        now=write_moment(now),
    )
    await add_plan(tx, plan_id, group_id, document, now)
    await add_leader(tx, group_id, leader.id, now)
    return Group(id=group_id, name=name, plan_id=plan_id)


async def change_plan(
    tx: Transaction, group: Group, name: str, document: str, reason: str, now: datetime
) -> Group:
    """The group with another plan from now on; the old one stays for the sessions that had it."""
    plan_id = name_row("plan", group.id, reason)
    await add_plan(tx, plan_id, group.id, document, now)
    await tx.execute(
        "UPDATE training_group SET name = :name, plan_id = :plan_id WHERE id = :id",
        id=group.id,
        name=name,
        plan_id=plan_id,
    )
    return Group(id=group.id, name=name, plan_id=plan_id)


async def add_plan(
    tx: Transaction, plan_id: str, group_id: str, document: str, now: datetime
) -> None:
    """Keep a plan file; what it counts for is said elsewhere."""
    await tx.execute(
        """
        INSERT INTO plan (id, group_id, document, made_at)
        VALUES (:id, :group_id, :document, :now) ON CONFLICT (id) DO NOTHING
        """,
        id=plan_id,
        group_id=group_id,
        document=document,
        now=write_moment(now),
    )


async def plan_document(tx: Transaction, plan_id: str) -> str:
    """The plan file as it was sent."""
    row = await tx.one("SELECT document FROM plan WHERE id = :id", id=plan_id)
    if row is None:
        raise LookupError(plan_id)
    return str(row["document"])


async def group(tx: Transaction, group_id: str) -> Group:
    """The group with this id."""
    row = await tx.one("SELECT * FROM training_group WHERE id = :id", id=group_id)
    if row is None:
        raise LookupError(group_id)
    return _group(row)


async def all_groups(tx: Transaction) -> tuple[Group, ...]:
    """Every group, oldest first."""
    rows = await tx.all("SELECT * FROM training_group ORDER BY made_at, id")
    return tuple(map(_group, rows))


async def groups_led_by(tx: Transaction, person: Person) -> tuple[Group, ...]:
    """The groups that this person leads, oldest first."""
    rows = await tx.all(
        """
        SELECT training_group.* FROM training_group
        JOIN leading ON leading.group_id = training_group.id
        WHERE leading.person_id = :person_id ORDER BY made_at, id
        """,
        person_id=person.id,
    )
    return tuple(map(_group, rows))


async def leads(tx: Transaction, person: Person, group_id: str) -> bool:
    """Whether this person leads that group."""
    row = await tx.one(
        "SELECT 1 FROM leading WHERE group_id = :group_id AND person_id = :person_id",
        group_id=group_id,
        person_id=person.id,
    )
    return row is not None


async def leaders(tx: Transaction, group_id: str) -> tuple[Person, ...]:
    """The instructors of a group, longest first."""
    rows = await tx.all(
        """
        SELECT person.* FROM person JOIN leading ON leading.person_id = person.id
        WHERE leading.group_id = :group_id ORDER BY leading.since, person.id
        """,
        group_id=group_id,
    )
    return tuple(map(read_person, rows))


async def add_leader(tx: Transaction, group_id: str, person_id: str, now: datetime) -> None:
    """Let this person lead the group from now on."""
    await tx.execute(
        """
        INSERT INTO leading (group_id, person_id, since) VALUES (:group_id, :person_id, :now)
        ON CONFLICT (group_id, person_id) DO NOTHING
        """,
        group_id=group_id,
        person_id=person_id,
        now=write_moment(now),
    )


async def remove_leader(tx: Transaction, group_id: str, person_id: str) -> bool:
    """Let this person lead the group no longer; false if nobody else does, or they don't."""
    removed = await tx.execute(
        """
        DELETE FROM leading WHERE group_id = :group_id AND person_id = :person_id
        AND EXISTS (
            SELECT 1 FROM leading AS another
            WHERE another.group_id = :group_id AND another.person_id <> :person_id
        )
        """,
        group_id=group_id,
        person_id=person_id,
    )
    return removed > 0


def _group(row: Row) -> Group:
    return Group(id=row["id"], name=row["name"], plan_id=row["plan_id"])
