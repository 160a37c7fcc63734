"""How debatable cases are counted, and the few values of a pitch that the rules look at."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import narwhals as nw
import numpy as np

from hitlab.errors import CountsError
from hitlab.pitches.doubts import MOST_CONTRADICTED
from hitlab.pitches.schema import CONTACT_OUTCOMES

__all__ = ["FACT_COLUMNS", "FASTEST_MPH", "PITCH_FACTS", "Conventions", "facts_beside", "pitch_facts"]

PROFESSIONAL_HARD_MPH = 95.0
"""Hard off a wood bat among professionals (common practice, no source)."""

FASTEST_MPH = 1000.0  # both bounds are asked for: NaN is larger than any number on some engines


MOST_UNKNOWN = 0.20
"""Share of contact of unknown hardness beyond which bounds stand in place of a rate, and nobody is ranked.

A rate supposes that the unknown contact is as often hard as the measured one. What goes unmeasured is not
left to chance (fouls, weak contact, some parks), and with a fifth unknown the record may be a fifth less than
the rate says, which is more than hitters differ by. An argument: ``Conventions(most_unknown=...)``; common
practice, no source.
"""


def eye_counts(given: Any) -> tuple[int, int, int, int]:
    """Take an eye's four counts from themselves or from what measured them, as plain whole numbers.

    Raises
    ------
    CountsError
        Where they are not four such counts.
    """
    told = getattr(given, "errors", given)
    four = list(told) if isinstance(told, Sequence) and not isinstance(told, str) else []
    whole = [int(one) for one in four if isinstance(one, int | float | np.number) and one == int(one)]
    if len(four) == len(whole) == 4 and 0 <= whole[0] <= whole[1] and 0 <= whole[2] <= whole[3]:
        return whole[0], whole[1], whole[2], whole[3]
    raise CountsError(
        f"eye={given!r}: give four counts: hard balls ticked, hard balls, others left unticked, others"
    )


@dataclass(frozen=True, slots=True)
class Conventions:
    """How the debatable cases are counted.

    Attributes
    ----------
    hard_mph
        Speed off the bat, in mph, from which a ball is hard. ``None``: 95 where the table is of
        professionals (or does not say), else hard hits are not counted until a threshold is given.
        A recorded ``hard`` flag wins over the speed either way, but where ``eye`` says how often it errs.
    foul_tip
        ``miss`` (default: it plays as a whiff) or ``contact`` (the bat did touch the ball). Either
        way it is a swing, is never a ball in play, and has its own count.
    hard_fouls
        Count hard-hit fouls as hard too. Then hard balls stand against contact, not balls in play.
    most_contradicted
        Share of the rows in which a column may contradict another and still be counted by: 0.01 where not
        given. Counts that rest on a column which does so more often are withheld.
    most_unknown
        Share of contact of unknown hardness beyond which two bounds stand in place of a rate and no chance is
        given: 0.20 where not given.
    eye
        Where an eye ticked what is hard, how often it was right on balls of known speed, in four counts: hard
        balls ticked, hard balls, others left unticked, others. Shrunk rates of hard balls are then of those
        truly hard, and a ball with a speed is judged by it, whatever was ticked. ``None``: what was ticked is
        taken as it is.
    """

    hard_mph: float | None = None
    foul_tip: Literal["miss", "contact"] = "miss"
    hard_fouls: bool = False
    most_contradicted: float = MOST_CONTRADICTED
    most_unknown: float = MOST_UNKNOWN
    eye: tuple[int, int, int, int] | None = None

    def __post_init__(self) -> None:
        if self.eye is not None:
            object.__setattr__(self, "eye", eye_counts(self.eye))
        if self.hard_mph is not None and not 0 < self.hard_mph < 130:
            raise CountsError(
                f"hard_mph={self.hard_mph!r}: give a speed off the bat in mph between 0 and 130"
            )
        if self.foul_tip not in ("miss", "contact"):
            raise CountsError(f"foul_tip={self.foul_tip!r}: accepted are 'miss' and 'contact'")
        for name, usual in (("most_contradicted", MOST_CONTRADICTED), ("most_unknown", MOST_UNKNOWN)):
            if not 0 <= getattr(self, name) <= 1:
                raise CountsError(
                    f"{name}={getattr(self, name)!r}: give a share from 0 to 1, such as {usual:.2f}"
                )

    @property
    def threshold_mph(self) -> float:
        """The speed from which a ball is hard, in mph."""
        return PROFESSIONAL_HARD_MPH if self.hard_mph is None else self.hard_mph

    @property
    def judged_outcomes(self) -> tuple[str, ...]:
        """The outcomes of which is judged how hard the contact was."""
        return CONTACT_OUTCOMES if self.hard_fouls else ("in play",)


# The few values the rules look at, beside ``result``. Whole numbers, never booleans or nulls: the
# engines agree on those.
PITCH_FACTS = ("outcome", "bunted", "checked", "two_strikes", "judged", "by_eye", "disputed")
FACT_COLUMNS = ("outcome", "bunt", "check_swing", "strikes", "exit_mph", "hard", "hard_source")
"""What they are told from."""

UNKNOWN, NOT_HARD, HARD = 0, 1, 2  # values of ``judged``


def _one_where(condition: nw.Expr) -> nw.Expr:
    return nw.when(condition).then(nw.lit(1)).otherwise(nw.lit(0))


def pitch_facts(columns: set[str], conventions: Conventions) -> list[nw.Expr]:
    """Return the expressions that reduce a row to the values the rules look at.

    A flag that is missing is false; a fact whose column is absent is the constant 0.

    Parameters
    ----------
    columns
        Names of the columns that the pitch table has.
    conventions
        How the debatable cases are counted.

    Returns
    -------
    list of narwhals.Expr
        One expression a name of ``PITCH_FACTS``, in that order: the outcome as it is, then whole numbers.

    Examples
    --------
    >>> import pandas as pd
    >>> import narwhals as nw
    >>> from hitlab.counting import Conventions, pitch_facts
    >>> pitches = pd.DataFrame({"outcome": ["whiff", "in play"], "strikes": [2, 1]})
    >>> facts = pitch_facts(set(pitches.columns), Conventions())
    >>> nw.from_native(pitches).select(facts).to_native()[["outcome", "bunted", "two_strikes"]]
       outcome  bunted  two_strikes
    0    whiff       0            1
    1  in play       0            0
    """
    facts = dict.fromkeys(PITCH_FACTS, nw.lit(0))
    facts["outcome"] = nw.col("outcome")
    if "bunt" in columns:
        facts["bunted"] = _one_where(nw.col("bunt") == True)  # noqa: E712  (an expression, not a test)
    if "check_swing" in columns:
        facts["checked"] = _one_where(nw.col("check_swing") == True)  # noqa: E712
    if "strikes" in columns:
        facts["two_strikes"] = _one_where(nw.col("strikes") == 2)
    facts |= _hardness(columns, conventions)
    return [value.alias(name) for name, value in facts.items()]


def facts_beside(keys: Collection[str], columns: set[str], conventions: Conventions) -> list[nw.Expr]:
    """Return the expressions of :func:`pitch_facts`, but for what is a key itself, as the outcome may be."""
    facts = zip(PITCH_FACTS, pitch_facts(columns, conventions), strict=True)
    return [fact for name, fact in facts if name not in keys]


def _hardness(columns: set[str], conventions: Conventions) -> dict[str, nw.Expr]:
    """Return how hard the contact was, who judged it, and whether flag and speed disagree."""
    struck = nw.col("outcome").is_in(conventions.judged_outcomes)
    by_speed: list[tuple[nw.Expr, int]] = []
    by_flag: list[tuple[nw.Expr, int]] = []
    if "exit_mph" in columns:
        speed = nw.col("exit_mph")
        fast = struck & (speed >= conventions.threshold_mph) & (speed <= FASTEST_MPH)
        slow = struck & (speed >= 0) & (speed < conventions.threshold_mph)
        by_speed = [(fast, HARD), (slow, NOT_HARD)]
    if "hard" in columns:
        yes = struck & (nw.col("hard") == True)  # noqa: E712
        no = struck & (nw.col("hard") == False)  # noqa: E712
        by_flag = [(yes, HARD), (no, NOT_HARD)]
    if not by_speed and not by_flag:
        return {}
    speed_wins = conventions.eye is not None  # else a recorded flag does
    judged = nw.lit(UNKNOWN)
    for condition, value in reversed([*by_speed, *by_flag] if speed_wins else [*by_flag, *by_speed]):
        judged = nw.when(condition).then(nw.lit(value)).otherwise(judged)
    facts = {"judged": judged}
    if by_flag:
        # Who judged: what the source says, else the radar where there is a speed, else the eye.
        by_eye = _one_where(yes | no)
        if by_speed and not speed_wins:
            by_eye = nw.when(fast | slow).then(nw.lit(0)).otherwise(by_eye)
        if "hard_source" in columns:
            by_eye = nw.when(nw.col("hard_source") == "radar").then(nw.lit(0)).otherwise(by_eye)
            told = (yes | no) & (nw.col("hard_source") == "eye")
            by_eye = nw.when(told).then(nw.lit(1)).otherwise(by_eye)
        if by_speed and speed_wins:
            by_eye = nw.when(fast | slow).then(nw.lit(0)).otherwise(by_eye)
        if by_speed:
            facts["disputed"] = _one_where((yes & slow) | (no & fast))
        facts["by_eye"] = by_eye
    return facts
