"""Did the bot keep the limits, leave nothing lying about, and do its job?"""

from bot.storage import inbox
from demo_script.story.figures import together, weekly
from demo_script.story.finding import Finding, People
from demo_script.story.tale import Tale

ENDED_WELL = {"sent", "superseded"}
"""A superseded letter was a change that a newer change made needless."""


async def limits_were_kept(tale: Tale, people: People) -> Finding:
    """The chat API never had to say "too many requests"."""
    api = tale.theatre.api
    return Finding(
        name="the chat API counted no request as too fast",
        holds=api.violations == 0,
        evidence=f"{len(api.requests)} requests, {api.violations} too fast",
    )


async def nothing_is_stuck(tale: Tale, people: People) -> Finding:
    """Everything that came in is done, and everything that had to go out has gone."""
    async with tale.theatre.house.database.transaction() as tx:
        rows = await tx.all("SELECT state, count(*) AS letters FROM outbox GROUP BY state")
        waiting = await inbox.waiting(tx)
        parked = await tx.value("SELECT count(*) FROM inbox WHERE parked_at IS NOT NULL")
        due = await tx.value("SELECT count(*) FROM due WHERE dropped_at IS NOT NULL")
    letters = {row["state"]: row["letters"] for row in rows}
    lost = len(waiting) + parked + due + len(tale.problems)
    return Finding(
        name="nothing failed, and nothing is stuck",
        holds=set(letters) <= ENDED_WELL and lost == 0,
        evidence="outbox: "
        + ", ".join(f"{number} {state}" for state, number in letters.items())
        + f"; inbox: {len(waiting)} waiting, {parked} parked; {due} dropped as too late; "
        f"{len(tale.problems)} problems logged"
        + "".join(f" ({each})" for each in tale.problems[:3]),
    )


ENOUGH_WEEKS = 4
"""A shorter story tells more of chance than of learning."""


async def effort_came_into_range(tale: Tale, people: People) -> Finding | None:
    """In the second half of the story more bouts are in range than in its first week."""
    weeks = weekly(tale)
    if len(weeks) < ENOUGH_WEEKS:
        return None
    later = weeks[len(weeks) // 2 :]
    before, after = weeks[0].others, together(each.others for each in later)
    all_before, all_after = weeks[0].everybody, together(each.everybody for each in later)
    return Finding(
        name=f"more effort is in range in weeks {later[0].week} to {later[-1].week} than in week 1",
        holds=after.share_in_range > before.share_in_range
        and all_after.share_in_range > all_before.share_in_range,
        evidence=f"{before.share_in_range:.0%} before, {after.share_in_range:.0%} after; with "
        f"everybody {all_before.share_in_range:.0%} and {all_after.share_in_range:.0%}",
    )
