"""No choice is thrown away, and none can be told by its form.

A wrong choice is no throwaway where somebody who makes a mistake that has a name picks it. Of that a machine
sees this much: it has a message of its own, which speaks to the thinking behind it; it is as long as the
others; and nobody who picks by form alone, without reading what is asked, is right more often than luck makes
him. The rest was looked at by hand, each choice with the question: would a person who makes the mistake that
its message names pick it?
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from hitlab.exercises.definitions import Choice, Exercise
from hitlab.exercises.letters import in_own_order
from hitlab.exercises.library import lessons

SOURCES = Path(__file__).parents[1] / "notebooks" / "source"
SEEDS = range(200)  # draws of a review's question, in which every option that can be right is
LEVEL = 0.05
WIDEST = 1.7  # times as long as the shortest, where options have more than two words

HEDGES = re.compile(
    r"\b(?:may|might|could|can|seldom|often|mostly|most|hardly|little|about|some|quite|perhaps|likely|open|"
    r"part|nearly|partly|usually|rather|average)\b"
)
ABSOLUTES = re.compile(
    r"\b(?:all|always|never|only|none|no|nobody|nothing|every|any|anybody|everybody|certain|prove[dn]|"
    r"surely|just)\b"
)
NUMBERS = re.compile(r"\d|\b(?:two|three|four|five|six|seven|eight|nine|ten|twice|half|hundred)\b")
STOPS = re.compile(r"[,:;]")
REASONS = re.compile(r"\b(?:as|for|because|since|so|which|who)\b|:")

Question = tuple[str, str, Exercise]


@cache
def asked() -> tuple[Question, ...]:
    """Return id, question and exercise of each choice of the lessons, in the order of the printed lessons."""
    found = []
    for lesson in lessons():
        (source,) = SOURCES.glob(f"{lesson.number}_*.py")
        text = source.read_text(encoding="utf-8")
        for exercise in lesson.exercises:
            if isinstance(exercise.form, Choice):
                end = text.index(f'choose("{exercise.id}")')
                put = text[text.rindex("# ###", 0, end) : end].partition("# %%")[0]
                found.append((exercise.id, put, in_own_order(exercise)))
    return tuple(found)


@cache
def reviewed() -> tuple[Question, ...]:
    """Return the choices of the reviews, each once for every option of theirs that is ever right."""
    found: dict[tuple[str, str], Question] = {}
    for lesson in lessons():
        for again in lesson.again:
            for seed in SEEDS:
                put, exercise = again.draw(np.random.default_rng(seed))
                if isinstance(exercise.form, Choice):
                    shown = in_own_order(exercise, str(seed))
                    found.setdefault((again.id, exercise.form.right), (again.id, put, shown))
    return tuple(found.values())


def _words(text: str) -> set[str]:
    return set(re.findall(r"[a-z']{3,}", text.lower()))


def _alike(options: list[str], _: str) -> list[float]:
    words = [_words(one) for one in options]
    return [sum(len(a & b) / len(a | b) for b in words if b is not a) for a in words]


def _echo(options: list[str], put: str) -> list[float]:
    return [len(_words(one) & _words(put)) / max(len(_words(one)), 1) for one in options]


def _middle_value(options: list[str], _: str) -> list[float]:
    values = [re.findall(r"\d+(?:\.\d+)?", one.replace(",", "")) for one in options]
    if not all(values):
        return [0.0] * len(options)
    firsts = [float(one[0]) for one in values]
    return [float(min(firsts) < one < max(firsts)) for one in firsts]


def _middle_length(options: list[str], _: str) -> list[float]:
    mean = sum(map(len, options)) / len(options)
    return [-abs(len(one) - mean) for one in options]


def _most(pattern: re.Pattern[str]) -> Callable[[list[str], str], list[float]]:
    return lambda options, _: [float(len(pattern.findall(one))) for one in options]


def _only_one(pattern: re.Pattern[str]) -> Callable[[list[str], str], list[float]]:
    """Pick the one option that has it, where just one has."""

    def score(options: list[str], _: str) -> list[float]:
        has = [bool(pattern.search(one)) for one in options]
        return [float(one) for one in has] if sum(has) == 1 else [0.0] * len(options)

    return score


def _turned(pick: Callable[[list[str], str], list[float]]) -> Callable[[list[str], str], list[float]]:
    return lambda options, put: [-one for one in pick(options, put)]


def _letter(place: int) -> Callable[[list[str], str], list[float]]:
    return lambda options, _: [float(at == place) for at in range(len(options))]


BY_FORM: dict[str, Callable[[list[str], str], list[float]]] = {
    "the longest": lambda options, _: [float(len(one)) for one in options],
    "the shortest": lambda options, _: [-float(len(one)) for one in options],
    "of middle length": _middle_length,
    "of middle value": _middle_value,
    "most like the others": _alike,
    "least like the others": _turned(_alike),
    "most words of the question": _echo,
    "fewest words of the question": _turned(_echo),
    "most hedges": _most(HEDGES),
    "fewest hedges": _turned(_most(HEDGES)),
    "most absolute": _most(ABSOLUTES),
    "least absolute": _turned(_most(ABSOLUTES)),
    "most numbers": _most(NUMBERS),
    "fewest numbers": _turned(_most(NUMBERS)),
    "most stops": _most(STOPS),
    "fewest stops": _turned(_most(STOPS)),
    "most reasons": _most(REASONS),
    "the only one with a hedge": _only_one(HEDGES),
    "the only absolute one": _only_one(ABSOLUTES),
    "the only one with a number": _only_one(NUMBERS),
    "the only one with a stop": _only_one(STOPS),
    **{f"letter {'abcd'[place]}": _letter(place) for place in range(4)},
}
"""A way to pick without reading what is asked -> options and the question -> how strongly each is picked."""


def picked(pick: Callable[[list[str], str], list[float]], questions: tuple[Question, ...]) -> list[tuple]:
    """Return of each question: how many options, how many of them are picked alike, is the right one."""
    found = []
    for _, put, exercise in questions:
        options = list(exercise.form.options.values())
        scores = pick(options, put)
        best = [one for one, score in zip(exercise.form.options, scores, strict=True) if score == max(scores)]
        found.append((len(options), len(best), exercise.form.right in best))
    return found


def by_luck(found: list[tuple]) -> float:
    """Return how likely at least as many are right where each option is right with equal chance, exactly.

    Where several options are picked alike one of them is drawn, so that a right one counts by its share.
    """
    unit = int(np.lcm.reduce([1, *(best for _, best, _ in found)]))
    law = np.array([1.0])
    for options, best, _ in found:
        one = np.zeros(unit // best + 1)
        one[0], one[-1] = 1 - best / options, best / options
        law = np.convolve(law, one)
    return float(law[sum(unit // best for _, best, right in found if right) :].sum())


def test_the_law_of_what_luck_makes_right():
    assert by_luck([(4, 1, True)] * 3) == pytest.approx(1 / 64)
    assert by_luck([(4, 1, True), (4, 1, False)]) == pytest.approx(1 - 9 / 16)
    assert by_luck([(4, 2, True), (4, 4, True)]) == pytest.approx(1 / 2)
    assert by_luck([(3, 1, False)]) == 1


@pytest.mark.parametrize("name", BY_FORM)
def test_who_picks_by_form_is_right_no_more_often_than_luck_makes_him(name):
    for questions in (asked(), asked() + reviewed()):
        found = picked(BY_FORM[name], questions)
        right = sum(1 / best for _, best, is_right in found if is_right)
        usual = sum(1 / options for options, _, _ in found)
        assert by_luck(found) >= LEVEL, f"{name}: {right:.1f} right of {len(found)}; luck gives {usual:.1f}"


def test_a_pattern_would_be_found():
    """The longest option made the right one in one question of two."""
    spoilt = [
        (4, 1, right or number % 2 == 0)
        for number, (_, _, right) in enumerate(picked(BY_FORM["the longest"], asked() + reviewed()))
    ]
    assert by_luck(spoilt) < 0.001


EVERY = {f"{number}-{name}": (name, one) for number, (name, _, one) in enumerate(asked() + reviewed())}


@pytest.mark.parametrize(("name", "exercise"), EVERY.values(), ids=EVERY)
def test_every_wrong_choice_has_a_mistake_of_its_own(name, exercise):
    options = exercise.form.options
    assert {str(wrong.given) for wrong in exercise.wrong} == set(options) - {exercise.form.right}
    messages = [wrong.says for wrong in exercise.wrong]
    assert len(set(messages)) == len(messages)
    for wrong in exercise.wrong:
        assert len(wrong.says.split()) >= 6, (name, wrong.says)
        if len(options[exercise.form.right].split()) > 2:
            assert options[exercise.form.right] not in wrong.says
        assert wrong.says not in (options[str(wrong.given)], exercise.praise, *exercise.hints)


@pytest.mark.parametrize(("name", "exercise"), EVERY.values(), ids=EVERY)
def test_no_choice_stands_out_by_its_length_or_its_signs(name, exercise):
    options = list(exercise.form.options.values())
    if min(len(one.split()) for one in options) > 2:
        assert max(map(len, options)) <= WIDEST * min(map(len, options)), (name, options)
    for sign in ("“", '"', "!", "?", "*"):
        assert len({sign in one for one in options}) == 1, (name, sign)
    assert not any(one.endswith(".") for one in options), name
