"""Did the bot keep the limits, leave nothing lying about, and do its job?"""

from bot.storage import inbox
from demo_script.story.figures import all_out, fitting
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
FAR_LESS = 2
"""Times less, at the least."""


async def less_is_maximal_than_by_the_plan(tale: Tale, people: People) -> Finding | None:
    """In its second half what was called out leaves far fewer all-out than the plan would have.

    The same people on the same days, so that neither who came nor how they slept makes the
    difference; who goes all-out whatever they are told is left out. How much is in range is told
    beside it: little is known of ten people after so few weeks, and the bot begins on the safe
    side.
    """
    weeks = sorted(tale.ledger.sessions)
    if len(weeks) < ENOUGH_WEEKS:
        return None
    later, apart = weeks[len(weeks) // 2 :], all_out(tale)
    bouts = [each for each in tale.ledger.bouts if each.week in later and each.member not in apart]
    told = fitting(tale, [(each.movement, each.usually) for each in bouts])
    planned = fitting(tale, [(each.movement, each.by_plan) for each in bouts])
    return Finding(
        name=f"in weeks {later[0]} to {later[-1]} far less was maximal than by one plan for all",
        holds=FAR_LESS * told.maximal <= planned.maximal,
        evidence=f"of {len(bouts)} bouts {told.share_maximal:.0%} were maximal and "
        f"{told.share_in_range:.0%} in range; had all done the plan, "
        f"{planned.share_maximal:.0%} and {planned.share_in_range:.0%}",
    )
