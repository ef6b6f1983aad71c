"""How a belief changes: with an answer, with time, and with a break."""

from dataclasses import replace
from datetime import date

import numpy as np

from core import rules
from core.capacity import laws
from core.capacity.belief import Belief
from core.capacity.evidence import Session, Work, attendance, guesses, work
from core.capacity.frame import Place
from core.capacity.laws import Numbers, Rows
from core.capacity.readings import finished, linear_rating, reserve_left, stopped
from core.capacity.slate import Slate, slate
from core.movement import Measure


def learn(belief: Belief, session: Session) -> Belief:
    """The belief after one session's answers; it costs the same however long the history is.

    Sessions come in order; a correction is learned by going back to the belief before the session
    and learning that session and the later ones again, which is what a fresh computation does.
    """
    before = wait(belief, session.on)
    row = {member: at for at, member in enumerate(before.members)}
    draft = slate(before)
    for place, rows, amounts, loads in guesses(session, before.frame, row):
        _take_guess(draft, place, rows, amounts, loads)
    done = []
    for place in before.frame.places:
        of_it = work(session, place, row)
        if len(of_it.rows):
            _take_work(draft, place, of_it)
            done.append((place, of_it))
    _take_class_ratings(draft, session, done, row)
    return _attended(draft.settled(), session, row)


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
    lost = rules.LOST_PER_WEEK_AWAY * belief.frame.scales()
    mean = belief.mean.copy()
    strengths = slice(belief.frame.strengths)
    mean[:, strengths] += np.outer(trained, growth) - np.outer(away, lost)
    together = 0.5 + 0.5 * np.eye(len(drift))
    cov = belief.cov.copy()
    cov[:, strengths, strengths] += weeks * together * np.outer(drift, drift)
    cov[:, strengths, strengths] += (away**2)[:, None, None] * together * np.outer(lost, lost)
    cov[:, -1, -1] = np.minimum(
        cov[:, -1, -1] + rules.BIAS_DRIFT**2 * weeks, max(rules.BIAS_SD**2, 0.0)
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


def _rating_noise(draft: Slate, rows: Rows) -> Numbers:
    new = draft.belief.answered[rows] < rules.NEW_RATER_CLASSES
    return np.where(new, rules.NEW_RATER_SD, rules.RATER_SD)


def _take_guess(draft: Slate, place: Place, rows: Rows, amounts: Numbers, loads: Numbers) -> None:
    seen = laws.strength(place.measure, amounts, loads)
    standard = np.full(len(rows), place.movement.rung(place.movement.standard))
    loaded = place.measure is Measure.LOAD
    sd = rules.ESTIMATE_LOAD_SD if loaded else rules.ESTIMATE_SD * place.per_amount
    _take_strength(draft, place, rows, standard, seen, np.full(len(rows), sd**2))


def _take_work(draft: Slate, place: Place, done: Work) -> None:
    """In this order: whether it was finished, the rating, then what was left."""
    cut = ~np.isnan(done.completed)
    if cut.any():
        seen, noise = stopped(place, done.completed[cut], done.load[cut])
        _take_strength(draft, place, done.rows[cut], done.rungs[cut], seen, noise)
    if (~cut).any():
        _take_finished(draft, place, _only(done, ~cut))
    rated = ~cut & ~np.isnan(done.effort)
    if rated.any():
        _take_ratings(draft, place, _only(done, rated))
    left = ~cut & ~np.isnan(done.reserve)
    if left.any():
        believed = draft.strength(done.rows[left], done.rungs[left], place)
        seen, noise = reserve_left(
            place, done.amount[left], done.load[left], done.reserve[left], believed
        )
        _take_strength(draft, place, done.rows[left], done.rungs[left], seen, noise)


def _only(done: Work, which: np.ndarray) -> Work:
    return Work(
        rows=done.rows[which],
        rungs=done.rungs[which],
        amount=done.amount[which],
        load=done.load[which],
        completed=done.completed[which],
        effort=done.effort[which],
        reserve=done.reserve[which],
    )


def _take_strength(
    draft: Slate, place: Place, rows: Rows, rungs: Rows, seen: Numbers, noise: Numbers
) -> None:
    """An observation of the strength itself, free of bias; `noise` is its variance."""
    weights = place.weights(rungs, draft.mean.shape[1])
    surprise = seen - draft.strength(rows, rungs, place)
    follows = draft.seen_through(rows, rungs, place, weights)
    draft.absorb(rows, weights, follows, surprise, noise, rating=False)


def _spread(draft: Slate, rows: Rows, weights: Numbers, follows: Numbers) -> tuple[Numbers, ...]:
    """Variances of strength and bias and their covariance, with all doubt about the group."""
    of_bias = draft.pull[rows, -1]
    own = np.einsum("nij,nj->ni", draft.cov[rows], weights)
    shared = follows @ draft.belief.group_cov
    return (
        np.einsum("ni,ni->n", own, weights) + np.einsum("ng,ng->n", shared, follows),
        own[:, -1] + np.einsum("ng,ng->n", shared, of_bias),
        draft.cov[rows, -1, -1]
        + np.einsum("ng,gh,nh->n", of_bias, draft.belief.group_cov, of_bias),
    )


def _take_finished(draft: Slate, place: Place, done: Work) -> None:
    weights = place.weights(done.rungs, draft.mean.shape[1])
    follows = draft.seen_through(done.rows, done.rungs, place, weights)
    mean = draft.strength(done.rows, done.rungs, place)
    variance, _, _ = _spread(draft, done.rows, weights, follows)
    surprise, noise = finished(place, done.amount, done.load, mean, variance)
    useful = np.isfinite(noise)
    draft.absorb(
        done.rows[useful],
        weights[useful],
        follows[useful],
        surprise[useful],
        noise[useful],
        rating=False,
    )


def _take_ratings(draft: Slate, place: Place, done: Work) -> None:
    rows = done.rows
    weights = place.weights(done.rungs, draft.mean.shape[1])
    follows = draft.seen_through(rows, done.rungs, place, weights)
    line = linear_rating(
        place,
        done,
        draft.strength(rows, done.rungs, place),
        draft.mean[rows, -1],
        _spread(draft, rows, weights, follows),
        _rating_noise(draft, rows),
    )
    weights *= line.slope[:, None]
    weights[:, -1] = 1.0
    follows = line.slope[:, None] * follows + draft.pull[rows, -1]
    draft.absorb(rows, weights, follows, line.surprise, line.noise, rating=True)


def _take_class_ratings(
    draft: Slate, session: Session, done: list[tuple[Place, Work]], row: dict[str, int]
) -> None:
    """A rating of the whole class tells of the mean of its movements, as far as they are known."""
    rated = [
        (row[each.member], each.effort)
        for each in session.ratings
        if each.attended and each.effort is not None and each.member in row
    ]
    size, group = draft.mean.shape[1], draft.belief.frame.group_size
    members = len(draft.belief.members)
    weights, follows = np.zeros((members, size)), np.zeros((members, group))
    expected, count = np.zeros(members), np.zeros(members)
    for place, of_it in done:
        rows = of_it.rows
        mean = draft.strength(rows, of_it.rungs, place)
        felt = laws.effort(place.measure, of_it.amount, of_it.load, mean)
        slope = np.where(felt < 10, laws.slope(place.measure, of_it.amount, of_it.load, mean), 0.0)
        hangs = place.weights(of_it.rungs, size)
        weights[rows] += slope[:, None] * hangs
        follows[rows] += slope[:, None] * draft.seen_through(rows, of_it.rungs, place, hangs)
        expected[rows] += np.clip(felt, 0, 10)
        count[rows] += 1
    rows = np.array([at for at, _ in rated if count[at] > 0], dtype=np.int64)
    if not len(rows):
        return
    effort = np.array([effort for at, effort in rated if count[at] > 0], dtype=np.float64)
    share = count[rows]
    weights, follows = weights[rows] / share[:, None], follows[rows] / share[:, None]
    weights[:, -1] = 1.0
    follows += draft.pull[rows, -1]
    surprise = effort - expected[rows] / share - draft.mean[rows, -1]
    unheard = np.maximum(1 - share / len(draft.belief.frame.places), 0.0)
    noise = rules.CLASS_RATING_SD**2 + rules.UNHEARD_SD**2 * unheard / share
    surprise = np.clip(surprise, -3 * np.sqrt(noise), 3 * np.sqrt(noise))
    draft.absorb(rows, weights, follows, surprise, noise, rating=True)
