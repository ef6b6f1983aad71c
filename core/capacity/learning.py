"""How a belief changes: with an answer, with time, and with a break."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import numpy as np

from core import people, rules
from core.capacity import laws
from core.capacity.belief import Belief, Recent, Unweighed
from core.capacity.evidence import Work, attendance, guesses, work
from core.capacity.feeling import Worked, felt_together, movements_done
from core.capacity.frame import Place
from core.capacity.laws import Numbers, Rows
from core.capacity.readings import (
    class_rating_variance,
    finished,
    linear_rating,
    reserve_left,
    stopped,
)
from core.capacity.slate import Sighting, Slate, slate
from core.capacity.weighing import weigh
from core.movement import Measure
from core.reports import Session


def learn(belief: Belief, session: Session) -> Belief:
    """The belief after one session's answers; it costs the same however long the history is.

    Sessions come in order; a correction is learned by going back to the belief before the session
    and learning that session and the later ones again, which is what a fresh computation does.
    Within a session a worse answer (a higher rating, less left, an earlier stop) never leaves its
    member stronger at anything: see `Slate.settled`. Over several sessions it may, since that is
    how somebody's way of rating is learned.
    """
    before = wait(weighed(belief), session.on)
    row = {member: at for at, member in enumerate(before.members)}
    worked = [(place, work(session, place, row)) for place in before.frame.places]
    done = [(place, of_it) for place, of_it in worked if len(of_it.rows)]
    draft = slate(_known_first(before, session, done, row))
    for seen in _sightings(draft, session, done, row):
        draft.absorb(seen)
    learned = _attended(draft.settled(), session, row)
    unweighed = Unweighed(session=session, before=before, learned=learned)
    return replace(learned, recent=Recent(unweighed=unweighed))


def _known_first(
    before: Belief, session: Session, done: list[Worked], row: dict[str, int]
) -> Belief:
    """The belief after what says the same whatever is answered: guesses, and what was finished."""
    first = slate(before)
    for place, rows, amounts, loads in guesses(session, before.frame, row):
        first.absorb(_guess(first, place, rows, amounts, loads))
    for place, of_it in done:
        for seen in _finished(first, place, of_it):
            first.absorb(seen)
    return first.settled()


def weighed(belief: Belief) -> Belief:
    """The same belief with its last session weighed as a whole, for the next one to build on."""
    recent = belief.recent
    if recent is None:
        return belief
    last = recent.unweighed  # several threads may come here at once, and all find the same
    if last is not None:
        recent.weighed = _weighed(last.session, last.before, last.learned)
        recent.unweighed = None
    assert recent.weighed is not None
    return recent.weighed


def _weighed(session: Session, before: Belief, learned: Belief) -> Belief:
    row = {member: at for at, member in enumerate(before.members)}
    worked = [(place, work(session, place, row)) for place in before.frame.places]
    told = [(place, of_it.only(of_it.told)) for place, of_it in worked]
    others = [(p, of_it.only(~of_it.told)) for p, of_it in worked if not of_it.told.all()]
    known = _known_first(before, session, others, row)
    after = weigh(known, learned, told, others, _whole(session, row))
    return replace(after, seen=learned.seen, answered=learned.answered)


def _whole(session: Session, row: dict[str, int]) -> Numbers:
    """Everybody's rating of the whole class; not a number where there is none."""
    found = np.full(len(row), np.nan)
    for each in session.ratings:
        if each.attended and each.effort is not None and each.member in row:
            found[row[each.member]] = each.effort
    return found


def _sightings(
    draft: Slate, session: Session, done: list[Worked], row: dict[str, int]
) -> Iterator[Sighting]:
    """All that was answered about a session, as seen from one belief before all of it."""
    for place, of_it in done:
        yield from _of_work(draft, place, of_it)
    yield from _class_ratings(draft, session, done, row)


def wait(belief: Belief, on: date) -> Belief:
    """The belief on a later day if nothing is said till then: vaguer, and lower for the absent."""
    if belief.on is None or on <= belief.on:
        return replace(belief, on=belief.on or on)
    start, end = belief.on.toordinal(), on.toordinal()
    weeks = (end - start) / 7
    away_from = np.where(belief.seen > 0, belief.seen + rules.BREAK_DAYS, end)
    away = np.clip(end - np.maximum(away_from, start), 0, None) / 7
    trained = np.where(belief.seen > 0, weeks - away, 0.0)
    growth = np.array([each.growth for each in belief.frame.places])
    drift = np.array([each.drift for each in belief.frame.places])
    lost = people.LOST_PER_WEEK_AWAY * belief.frame.scales()
    mean = belief.mean.copy()
    strengths = slice(belief.frame.strengths)
    mean[:, strengths] += np.outer(trained, growth) - np.outer(away, lost)
    together = 0.5 + 0.5 * np.eye(len(drift))
    cov = belief.cov.copy()
    cov[:, strengths, strengths] += weeks * together * np.outer(drift, drift)
    cov[:, strengths, strengths] += (away**2)[:, None, None] * together * np.outer(lost, lost)
    cov[:, -1, -1] = np.minimum(
        cov[:, -1, -1] + people.BIAS_DRIFT**2 * weeks, max(people.BIAS_SD**2, 0.0)
    )
    return replace(belief, on=on, mean=mean, cov=cov)


def _attended(belief: Belief, session: Session, row: dict[str, int]) -> Belief:
    seen, answered = belief.seen.copy(), belief.answered.copy()
    there = attendance(session, row)
    seen[there] = np.maximum(seen[there], session.on.toordinal())
    answered[_raters(session, row)] += 1
    return replace(belief, seen=seen, answered=answered)


def _raters(session: Session, row: dict[str, int]) -> Rows:
    said = {each.member for each in session.bouts if each.effort is not None}
    said |= {each.member for each in session.ratings if each.effort is not None}
    return np.array(sorted(row[each] for each in said if each in row), dtype=np.int64)


def _guess(draft: Slate, place: Place, rows: Rows, amounts: Numbers, loads: Numbers) -> Sighting:
    seen = laws.strength(place.measure, amounts, loads)
    standard = np.full(len(rows), place.movement.rung(place.movement.standard))
    loaded = place.measure is Measure.LOAD
    sd = people.ESTIMATE_LOAD_SD if loaded else people.ESTIMATE_SD * place.per_amount
    surprise = seen - draft.strength(rows, standard, place)
    return _strength(draft, place, rows, standard, surprise, np.full(len(rows), sd**2))


def _of_work(draft: Slate, place: Place, done: Work) -> Iterator[Sighting]:
    """Where it ended, the rating, and what was left."""
    cut = ~np.isnan(done.completed)
    if cut.any():
        of_it = done.only(cut)
        seen, noise = stopped(place, of_it.completed, of_it.load)
        surprise = seen - draft.strength(of_it.rows, of_it.rungs, place)
        yield _strength(draft, place, of_it.rows, of_it.rungs, surprise, noise)
    rated = ~cut & ~np.isnan(done.effort)
    if rated.any():
        yield _rating(draft, place, done.only(rated))
    left = ~cut & ~np.isnan(done.reserve)
    if left.any():
        of_it = done.only(left)
        surprise, noise = reserve_left(place, of_it, draft.doubt(place, of_it))
        yield _strength(draft, place, of_it.rows, of_it.rungs, surprise, noise)


def _strength(
    draft: Slate,
    place: Place,
    rows: Rows,
    rungs: Rows,
    surprise: Numbers,
    noise: Numbers,
    says: int = 1,
) -> Sighting:
    """A sighting of the strength itself, free of bias; `noise` is its variance."""
    weights = place.weights(rungs, draft.moved.shape[1])
    return Sighting(
        rows=rows,
        weights=weights,
        follows=draft.seen_through(rows, rungs, place, weights),
        surprise=surprise,
        noise=noise,
        says=says,
    )


def _finished(draft: Slate, place: Place, done: Work) -> Iterator[Sighting]:
    done = done.only(np.isnan(done.completed))
    surprise, noise = finished(place, done, draft.doubt(place, done))
    teaches = np.isfinite(noise)
    if teaches.any():
        of_it = done.only(teaches)
        yield _strength(
            draft, place, of_it.rows, of_it.rungs, surprise[teaches], noise[teaches], says=0
        )


def _rating(draft: Slate, place: Place, done: Work) -> Sighting:
    rows = done.rows
    weights = place.weights(done.rungs, draft.moved.shape[1])
    follows = draft.seen_through(rows, done.rungs, place, weights)
    line = linear_rating(place, done, draft.doubt(place, done), draft.belief.rating_sd[rows])
    weights *= line.slope[:, None]
    weights[:, -1] = 1.0
    return Sighting(
        rows=rows,
        weights=weights,
        follows=line.slope[:, None] * follows + draft.belief.pull[rows, -1],
        surprise=line.surprise,
        noise=line.noise,
        says=-1,
    )


def _class_ratings(
    draft: Slate, session: Session, done: list[Worked], row: dict[str, int]
) -> Iterator[Sighting]:
    """A rating of the whole class tells of the mean of its movements, as far as they are known."""
    whole, every = _whole(session, row), felt_together(draft, done)
    count = movements_done(done, len(row))
    rows = np.flatnonzero(~np.isnan(whole) & (count > 0))
    if not len(rows):
        return
    share = count[rows]
    weights = every.weights[rows] / share[:, None]
    weights[:, -1] = 1.0
    surprise = whole[rows] - every.expected[rows] / share - draft.belief.mean[rows, -1]
    noise = class_rating_variance(share, len(draft.belief.frame.places))
    noise += every.noise[rows] / share**2
    yield Sighting(
        rows=rows,
        weights=weights,
        follows=every.follows[rows] / share[:, None] + draft.belief.pull[rows, -1],
        surprise=np.clip(surprise, -3 * np.sqrt(noise), 3 * np.sqrt(noise)),
        noise=noise,
        says=-1,
    )
