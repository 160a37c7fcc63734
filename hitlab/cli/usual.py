"""What is usual, as it is told on the command line: a league's table, or a range in somebody's own words."""

from __future__ import annotations

from dataclasses import astuple, replace
from typing import TYPE_CHECKING, Any

from hitlab.cli.options import pitches_of
from hitlab.errors import ClaimError, HitlabError

if TYPE_CHECKING:
    from hitlab.counting import Counts
    from hitlab.estimates import Fit
    from hitlab.questions import Question

__all__ = ["season_of", "usual_of"]


def season_of(path: Any, mapping: str | None) -> Any:
    """Return another table's pitches, translated as the table is unless it is checked already."""
    from hitlab.pitches.storing import opens_as_checked

    return pitches_of(path, None if opens_as_checked(path) else mapping)


def usual_of(question: Question, options: dict[str, Any], pitches: Any) -> Any:
    """Return what is usual as a question keeps it; ``None`` where nothing was told.

    Parameters
    ----------
    question
        Which rate, in which situation.
    options
        Those of ``--league``, ``--league-mapping``, ``--mapping``, ``--usual`` and ``--usual-hitters``.
    pitches
        The table itself.

    Raises
    ------
    ClaimError
        Where both were told, or what was told says nothing of this table.
    """
    from hitlab.estimates.league_law import AS_SURE_AS, stated_range

    if options.get("usual") is None:
        if options.get("usual_hitters") is not None:
            raise ClaimError("--usual-hitters says how sure --usual is; give that, too")
        return None if options.get("league") is None else _of_league(question, options, pitches)
    if options.get("league") is not None:
        raise ClaimError("--usual and --league both say what is usual; leave one out")
    return astuple(stated_range(options["usual"], rates=options.get("usual_hitters") or AS_SURE_AS))


def _of_league(question: Question, options: dict[str, Any], pitches: Any) -> Any:
    """Give what is usual in a league of which the table is a part, or in last year's table."""
    from hitlab.questions.fitted import Fitted

    path, mapping = options["league"], options["league_mapping"]
    # What is known of these hitters beside the table is not known of the league's, nor are its balls ticked
    # by an eye of this table's.
    question = replace(question, groups="", covariates=(), by_exposure="auto")
    seen = replace(question, season="", history="ids", conventions=replace(question.conventions, eye=None))
    try:
        table = season_of(path, options["mapping"]) if mapping is None else pitches_of(path, mapping)
        of_all = Fitted.asked(seen, table)
        fit = of_all.fit
    except HitlabError as error:
        raise ClaimError(f"the league, {path}: {error}") from error
    counts = Fitted.asked(question, pitches).counts
    if _a_part_of(fit, counts):
        raise ClaimError(
            f"the league, {path}, is the table itself or a part of it; give the table of all its clubs, or "
            "of another season"
        )
    ours, theirs = (one.hard_means or "not known" for one in (counts, of_all.counts))
    if "hard" not in question.event or ours == theirs:
        return astuple(fit.law)
    if _by_eye(counts) and not of_all.counts.judged[0]:
        if question.conventions.eye is not None:  # what is estimated is then truly hard
            return astuple(fit.law)
        alone = fit.law.spread_alone
        why = "its spread alone: there a radar tells what is hard, here an eye, which calls others hard"
        return astuple(replace(alone, source=f"{alone.source}; {why}"))
    raise ClaimError(
        f"the league, {path}, is counted otherwise: there hard means {theirs}, in the table {ours}; "
        "what is usual for one says nothing of the other. Leave --league out, or give a league that was "
        "judged alike"
    )


def _by_eye(counts: Counts) -> bool:
    """Say whether an eye told of most contacts whether they are hard."""
    by_eye, judged = counts.judged
    return by_eye > judged / 2


def _a_part_of(league: Fit, counts: Counts) -> bool:
    """Say whether all that a league's table counts may stand in the table, so that it tells nothing more."""
    if league.counts.fingerprint == counts.fingerprint:
        return True
    if league.counts.by != counts.by:
        return False
    ours = counts.data.set_index(list(counts.by))
    theirs = league.counts.data.set_index(list(counts.by))
    if not theirs.index.isin(ours.index).all():
        return False
    both = ours.loc[theirs.index, [league.event, league.per]].to_numpy()
    return bool((theirs[[league.event, league.per]].to_numpy() <= both).all())
