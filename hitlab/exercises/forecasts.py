"""The learner's verdict on a lesson's claim before and after, with a confidence that is scored."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any, Literal

from hitlab.errors import HitlabError
from hitlab.exercises.answers import UnreadableAnswerError, is_blank, read_answer
from hitlab.exercises.definitions import Choice, Lesson, Number
from hitlab.exercises.keeping import change, read_all, trouble_to_tell
from hitlab.exercises.library import find_lesson
from hitlab.exercises.notices import NOT_ANSWERED, NOT_YET, Notice
from hitlab.wording import capitalised, percent, rate_text

__all__ = ["VERDICTS", "brier_score", "confidence", "read_chance", "read_verdict"]

VERDICTS = ("holds", "does not hold", "open")

_MOST_KEPT = 50  # verdicts of a lesson
_LEAST = 1 / 3  # of three verdicts the one that is believed most has at least a third


def brier_score(chance: float, right: bool) -> float:
    """Return the squared distance between a stated chance and what came true (1 or 0).

    0 is best, 1 is worst. Brier, G. W. 1950, Monthly Weather Review 78(1):1-3, in the form for one event.
    """
    return (chance - (1.0 if right else 0.0)) ** 2


def confidence(lesson: str, when: Literal["before", "after"], verdict: Any = ..., sure: Any = ...) -> Notice:
    """Keep a verdict with its confidence, and score it once the lesson is over.

    Parameters
    ----------
    lesson
        The lesson's number, such as ``"01"``.
    when
        ``before`` any data, or ``after`` the lesson.
    verdict
        ``holds``, ``does not hold`` or ``open``; the dots mean "not answered yet".
    sure
        The chance, from 1/3 to 1, that this verdict is the right one.

    Returns
    -------
    Notice
        ``before`` only repeats what was kept, so that the lesson is not given away; ``after`` gives
        the right verdict and the Brier score of both. Never raises.
    """
    try:
        known = find_lesson(lesson)
        if when not in ("before", "after"):
            return Notice("note", ('the second argument is "before" or "after".',))
        if is_blank(verdict) or is_blank(sure):
            return Notice(
                NOT_ANSWERED,
                ("put a verdict and how sure you are of it, from 1/3 to 1, in place of the dots.",),
            )
        word, chance = read_verdict(verdict, sure)
        _keep(known.number, when, word, chance)
        lines = (
            (f"kept: {word}, {percent(chance)} sure. It is scored at the end of the lesson.",)
            if when == "before"
            else _scored(known)
        )
        return Notice("confidence", (*lines, *trouble_to_tell()))
    except UnreadableAnswerError as error:
        return Notice(NOT_YET, (f"{error}.",))
    except HitlabError as error:
        return Notice("note", (f"{error}.",))
    except Exception as error:  # what was given may raise anything; this never does
        return Notice(NOT_YET, (f"that cannot be read ({type(error).__name__}).",))


def _keep(lesson: str, when: str, word: str, chance: float) -> None:
    """Keep a verdict: the last one of its time counts, and every one is kept with its time."""
    before = read_all()["confidence"].get(lesson, {}).get("given")
    before = before if isinstance(before, list) else []
    now = datetime.now(UTC).isoformat(timespec="seconds")
    given = [*before, [when, word, chance, now]][-_MOST_KEPT:]
    change("confidence", lesson, **{when: [word, chance], "given": given})


def read_verdict(verdict: Any, sure: Any) -> tuple[str, float]:
    """Return a verdict and its chance.

    Raises
    ------
    UnreadableAnswerError
        With a message for the learner.
    """
    words = Choice("", {word: word for word in VERDICTS})
    word = read_answer(verdict, words)
    chance = read_chance(sure, least=_LEAST)
    if chance < _LEAST - 0.01:
        raise UnreadableAnswerError("below 1/3 you believe another of the three verdicts more; give that one")
    return str(word), chance


def read_chance(sure: Any, *, least: float) -> float:
    """Return how sure somebody is, from 0 to 1.

    Raises
    ------
    UnreadableAnswerError
        With a message for the learner.
    """
    chance = float(read_answer(sure, Number(0.0, 0.0)))
    if 1 < chance <= 100:
        raise UnreadableAnswerError(f"give the confidence as a share: {chance:g} % is {chance / 100:g}")
    if not 0 <= chance <= 1:
        raise UnreadableAnswerError(f"a confidence lies between {'1/3' if least else '0'} and 1")
    return chance


def _scored(lesson: Lesson) -> tuple[str, ...]:
    truth = lesson.verdict()
    change("confidence", lesson.number, truth=truth)
    kept = read_all()["confidence"].get(lesson.number, {})
    lines = [f"The claim: {truth}. {lesson.because}"]
    for when in ("before", "after"):
        try:
            word, chance = read_verdict(*kept[when])
        except (KeyError, TypeError, ValueError, HitlabError):  # not given, or the file was edited
            continue
        score = rate_text(brier_score(chance, word == truth))
        rightly = "right" if word == truth else "wrong"
        lines.append(f"{capitalised(when)}: {word}, {percent(chance)} sure, {rightly}: score {score}.")
    lines.append(
        "The score is the squared gap between how sure you were and what came true: 0 is best, .250 is what "
        "fifty-fifty always gets, 1 is being certain and wrong. It rewards saying how sure you really are."
    )
    return tuple(lines)
