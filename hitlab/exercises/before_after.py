"""Twelve questions for a test before the course and one after: templates, so that two forms are equally hard.

Each template is a question with numbers and names that are drawn. What is right is worked out from the
numbers, and each wrong option is what a belief makes of them; the belief is said for the teacher.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import stats

from hitlab.wording import percent

__all__ = ["TEMPLATES", "Drawn", "Template", "Wrongly", "leaders_record"]

Rng = np.random.Generator

_SURPRISE = 20  # one in so many: what a lone look calls surprising


@dataclass(frozen=True, slots=True)
class Wrongly:
    """A wrong option.

    Attributes
    ----------
    option
        As it is read.
    believes
        What who chooses it believes; completes "believes that".
    """

    option: str
    believes: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """A question as it was drawn.

    Attributes
    ----------
    text
        The question.
    right
        The right option.
    why
        Why it is right, in a sentence or two.
    wrong
        Three wrong options.
    facts
        The numbers that it was made of, by name.
    """

    text: str
    right: str
    why: str
    wrong: tuple[Wrongly, Wrongly, Wrongly]
    facts: dict[str, float]


@dataclass(frozen=True, slots=True)
class Template:
    """A question of which there are many, all equally hard: one structure, numbers of as many digits.

    Attributes
    ----------
    idea
        What it asks for; no two have the same.
    lesson
        The lesson that teaches it.
    in_the_sport
        Whether it is about hitting.
    draw
        A generator -> the question.
    """

    idea: str
    lesson: str
    in_the_sport: bool
    draw: Callable[[Rng], Drawn]


def _one_of(rng: Rng, *rows: Any) -> Any:
    return rows[int(rng.integers(len(rows)))]


def _denominator(rng: Rng) -> Drawn:
    who, they = _one_of(rng, ("Vela", "her"), ("Orm", "his"), ("Tessa", "her"), ("Bram", "his"))
    hard = int(_one_of(rng, 24, 32, 40))
    pitches, swings, touched, in_play = 400, 200, 160, 100

    def per(below: int) -> str:
        return f"{percent(hard / below)}: {hard} of {below}"

    return Drawn(
        f"{who} saw {pitches} pitches and swung at {swings}. The bat touched {touched} of them, {in_play} "
        f"were put in play, and {hard} of these were hit hard. How often does one of {they} swings end in a "
        "hard-hit ball?",
        per(swings),
        "The question is about swings, and a miss and a foul are swings too.",
        (
            Wrongly(per(in_play), "misses and fouls do not count as swings, as nothing came of them"),
            Wrongly(
                per(touched), "a swing that misses tells nothing, so only those that touch the ball count"
            ),
            Wrongly(per(pitches), "every pitch is a chance, also one that was let go"),
        ),
        {"hard": hard, "pitches": pitches, "swings": swings, "touched": touched, "in_play": in_play},
    )


def _per_try(rng: Rng) -> Drawn:
    one, other = _one_of(rng, ("Vela", "Orm"), ("Tessa", "Bram"), ("Ida", "Jory"))
    # Of 100 parcels handed over: on time. The first is the more punctual one of those handed over.
    handed, timely, more_handed, less_timely = _one_of(
        rng, (50, 90, 75, 80), (40, 80, 80, 60), (60, 80, 90, 70)
    )
    first, second = handed * timely // 100, more_handed * less_timely // 100
    return Drawn(
        f"{one} and {other} deliver parcels; each sets out with 100. {one} finds {handed} people at home, "
        f"and {timely} % of what is handed over comes on time. {other} hands over {more_handed}, and "
        f"{less_timely} % of that comes on time. Who brings more of the 100 on time?",
        f"{other}, {second} against {first}",
        f"Of the 100 that each set out with, {other} brings {less_timely} % of {more_handed} on time, "
        f"{one} {timely} % of {handed}.",
        (
            Wrongly(
                f"{one}, {timely} against {less_timely}",
                "a rate among what succeeded tells how good somebody is, whatever failed before",
            ),
            Wrongly(
                f"{other}, {more_handed} against {handed}",
                "what was handed over is what was asked for, late or not",
            ),
            Wrongly(
                "neither: what one has ahead in one rate, the other has in the other",
                "two rates that stand one after the other cannot be put together",
            ),
        ),
        {
            "handed": handed, "timely": timely, "more_handed": more_handed, "less_timely": less_timely,
            "first": first, "second": second,
        },
    )  # fmt: skip


def _small_sample(rng: Rng) -> Drawn:
    many = int(_one_of(rng, 200, 300, 400))
    town = _one_of(rng, 3.9, 4.0, 4.1)
    top = round(town + 0.7, 1)
    return Drawn(
        f"Of {many} cafés of a town with 12 reviews each, the ten that stand highest have {top} stars on "
        f"average. All {many} have {town}. What should be expected of the next 200 reviews of these ten, on "
        "average?",
        f"between {town} and {top}",
        "The ten are good and were lucky; what is good stays, and the luck of twelve reviews does not.",
        (
            Wrongly(f"about {top}", "a record shows what somebody is, so it goes on as it began"),
            Wrongly(f"about {town}", "what stands out is nothing but luck"),
            Wrongly(f"below {town}", "good luck is made up for by bad luck afterwards"),
        ),
        {"many": many, "town": town, "top": top},
    )


def _interval(rng: Rng) -> Drawn:
    level, centres = _one_of(rng, (90, 200), (95, 200), (90, 300), (95, 300))
    missing = centres * (100 - level) // 100
    return Drawn(
        f"Each of {centres} call centres counts, in calls of its own, how many callers hang up, and gives a "
        f"{level} % interval for its true share. Some have many calls, some few; all calculate rightly. How "
        "many of the intervals do not hold their true share?",
        f"about {missing}, with many calls as with few",
        f"A {level} % interval misses in {100 - level} of 100 uses; with few calls it is longer, so that "
        "this stays so.",
        (
            Wrongly("none, if all calculate rightly", "an interval holds the truth, or it was made wrongly"),
            Wrongly(
                f"about {missing}, nearly all with few calls",
                "more calls make an interval more often right, not shorter",
            ),
            Wrongly(
                "nobody can say, as no true share is known",
                "a promise about what is not known promises nothing",
            ),
        ),
        {"level": level, "centres": centres, "missing": missing},
    )


def leaders_record(hitters: int, swings: int, chance: float) -> float:
    """Return the highest rate to be expected among equal hitters.

    Parameters
    ----------
    hitters
        How many, all with the same chance.
    swings
        Of each.
    chance
        Of a hard-hit ball per swing, 0 to 1.

    Returns
    -------
    float
        The mean of the highest of their rates, exactly: the largest of independent binomial counts.
    """
    below = stats.binom.cdf(np.arange(swings), swings, chance) ** hitters
    return float((1 - below).sum() / swings)


def _hundredths(rate: float) -> str:
    """Return a rate as it is rounded here, ``.29``: a third digit would promise what was rounded away."""
    return f"{rate:.2f}".removeprefix("0")


def _leaders_excess(rng: Rng) -> Drawn:
    chance = _one_of(rng, 0.14, 0.15, 0.16)
    hitters, swings = int(_one_of(rng, 30, 40)), 40
    best = round(leaders_record(hitters, swings, chance), 2)
    return Drawn(
        f"Suppose that all {hitters} hitters of a league are equally good: {_hundredths(chance)} hard-hit "
        f"balls per swing, in the long run. Each swings {swings} times. What is to be expected of the "
        "highest record?",
        f"about {_hundredths(best)}: somebody is lucky",
        f"With {hitters} tries at luck somebody gets far above {_hundredths(chance)}; whoever leads a list "
        "stands too high on it.",
        (
            Wrongly(f"about {_hundredths(chance)}: all are equal", "equal hitters have equal records"),
            Wrongly(
                f"about {_hundredths(chance + 0.01)}: luck does little",
                "forty swings are so many that luck is used up",
            ),
            Wrongly(
                f"above {_hundredths(best)} only if one is better",
                "luck has a border, and what lies beyond it is skill",
            ),
        ),
        {"chance": chance, "hitters": hitters, "swings": swings, "best": best},
    )


def _searching(rng: Rng) -> Drawn:
    looks = int(_one_of(rng, 40, 60, 80))
    found = looks // _SURPRISE
    what = _one_of(rng, "on Tuesdays", "in the fourth inning", "on the road in June")
    return Drawn(
        f"An analyst looks at {looks} situations of one hitter and reports one: {what} she hits so well "
        f"that luck alone does as much once in {_SURPRISE} times. Suppose that no situation matters to her "
        f"at all. How many of the {looks} were likely to look that good?",
        f"about {found}",
        f"One in {_SURPRISE} of {looks} is {found}; what was searched for has to be held against the search.",
        (
            Wrongly("none", f"what luck does once in {_SURPRISE} times it does not do here"),
            Wrongly("at most one", f"one in {_SURPRISE} is said of the whole search, not of each look"),
            Wrongly(f"{looks - found}", "one minus the chance of luck is the share that is real"),
        ),
        {"looks": looks, "found": found},
    )


def _like_with_like(rng: Rng) -> Drawn:
    one, other = _one_of(rng, ("North", "South"), ("Hill", "Lake"), ("East", "West"))
    # In 100 each: healed of mild and of severe cases. The first treats many severe cases.
    mild, severe, other_mild, other_severe = _one_of(
        rng, (90, 50, 80, 40), (90, 60, 80, 50), (80, 50, 70, 40)
    )
    many, few = 300, 100
    total = few * mild // 100 + many * severe // 100
    other_total = many * other_mild // 100 + few * other_severe // 100
    return Drawn(
        f"Clinic {one} treats {few} mild cases, of which {few * mild // 100} heal, and {many} severe ones, "
        f"of which {many * severe // 100} heal. Clinic {other} treats {many} mild cases, of which "
        f"{many * other_mild // 100} heal, and {few} severe ones, of which {few * other_severe // 100} "
        "heal. Which one should somebody choose?",
        f"{one}: {mild} and {severe} of 100 against {other_mild} and {other_severe}",
        f"Among mild cases and among severe ones {one} heals more; in total it looks worse because it gets "
        "the severe ones.",
        (
            Wrongly(
                f"{other}: {other_total} healed of 400 against {total}",
                "the total tells who is better, whoever comes to be treated",
            ),
            Wrongly(
                f"{other} with a mild case, {one} with a severe one",
                "who has seen more cases of a kind is better at it",
            ),
            Wrongly(
                f"either: {one} leads in the parts, {other} in the total",
                "a total and its parts are two opinions that count the same",
            ),
        ),
        {
            "mild": mild, "severe": severe, "other_mild": other_mild, "other_severe": other_severe,
            "total": total, "other_total": other_total,
        },
    )  # fmt: skip


def _launch_angle(rng: Rng) -> Drawn:
    under = _one_of(rng, 0.7, 0.8, 0.9)
    rising = int(_one_of(rng, 12, 13, 14))
    one, other = _one_of(rng, ("Vela", "Tessa"), ("Ida", "Mona"), ("Orm", "Bram"))
    return Drawn(
        f"{one} swings level: the bat does not rise at all. The axis of the bat passes {under} inches under "
        f"the middle of the ball. {other} swings up by {rising} degrees, and the bat's axis meets the "
        "ball's middle. Pitch and bat speed are the same. Whose ball leaves at the steeper upward angle?",
        f"that of {one}, as it was struck farther below its middle",
        "Where the ball is struck turns its way more than the few degrees by which swings differ.",
        (
            Wrongly(
                f"that of {other}, as a ball leaves the way the bat moves",
                "the swing's own angle is the ball's",
            ),
            Wrongly("both alike, as bat and pitch are equally fast", "speeds alone decide how a ball leaves"),
            Wrongly(
                "neither goes up, as a falling pitch goes back the way it came",
                "a ball is thrown back along its path, wherever the bat meets it",
            ),
        ),
        {"under": under, "rising": rising},
    )


def _forecast(rng: Rng) -> Drawn:
    calls, sure = _one_of(rng, (40, 70), (50, 80), (60, 70), (60, 80))
    right = calls * sure // 100
    who = _one_of(rng, "A referee", "A line judge", "A jury member")
    return Drawn(
        f"{who} says {calls} times, before the film is shown: I am {sure} % sure of this call. {right} of "
        f"the {calls} calls were right. What do they say about the {sure} %?",
        "they fit what came true",
        f"{sure} of 100 such calls should come out right, and {right} of {calls} are; that some are wrong "
        "was part of what was said.",
        (
            Wrongly(
                f"they were too many: {calls - right} were wrong", "whoever says a high chance must be right"
            ),
            Wrongly(
                "they were too few: most were right",
                "a chance above one half says yes, and should be said as certain",
            ),
            Wrongly(
                "nothing: a call is right or wrong", "chances cannot be checked, as each thing happens once"
            ),
        ),
        {"calls": calls, "sure": sure, "right": right},
    )


def _blank(rng: Rng) -> Drawn:
    in_play, judged, hard = _one_of(rng, (60, 40, 16), (80, 50, 20), (70, 40, 16), (90, 60, 24))
    blank = in_play - judged
    alike = hard * in_play // judged
    return Drawn(
        f"A chart has {in_play} balls in play. In the column for hard-hit balls {hard} have a yes, "
        f"{judged - hard} a no, and {blank} are blank. How many of the {in_play} were hit hard, as far as "
        "that is certain?",
        f"between {hard} and {hard + blank}",
        f"A blank says that nobody judged it: none of the {blank} may have been hard, or all.",
        (
            Wrongly(f"{hard}", "a blank means no"),
            Wrongly(f"{alike}", "what was not written down is like what was"),
            Wrongly(f"between 0 and {in_play}", "a chart with blanks tells nothing"),
        ),
        {"in_play": in_play, "judged": judged, "hard": hard, "blank": blank, "alike": alike},
    )


def _two_rates(rng: Rng) -> Drawn:
    pupils = int(_one_of(rng, 200, 300, 400))
    short = int(_one_of(rng, 6, 8))
    seen = _one_of(rng, 0.2, 0.3)
    one, other = _one_of(rng, ("reading", "arithmetic"), ("spelling", "geography"), ("grammar", "geometry"))
    return Drawn(
        f"{pupils} pupils take an exam of {short} questions in {one} and one of {short} in {other}. The two "
        f"marks correlate by {seen}. Now each exam gets {10 * short} questions as good as those. What "
        "should be expected of the correlation?",
        f"it is higher than {seen}",
        "With few questions luck blurs each mark, and hides a part of what goes together.",
        (
            Wrongly(
                f"it stays at {seen}", "a correlation belongs to the pupils, however well they are measured"
            ),
            Wrongly(
                f"it is lower than {seen}", "what goes together in small samples is chance, and goes away"
            ),
            Wrongly(
                "up or down, as one exam tells nothing of another",
                "what was seen with luck in it was nothing but luck",
            ),
        ),
        {"pupils": pupils, "short": short, "seen": seen},
    )


def _situation(rng: Rng) -> Drawn:
    one, other = _one_of(rng, ("Vela", "Tessa"), ("Ida", "Mona"), ("Orm", "Bram"))
    strong, brings, more = _one_of(rng, (18, 42, 54), (16, 38, 52), (17, 44, 56))
    weak = strong - 5
    return Drawn(
        f"Last inning, tie game, runner on third, one out: one run wins. Over the season {one} is worth "
        f"{strong} runs per 100 turns at bat more than the average, {other} {weak}. In a spot like this one "
        f"the runner scores in {brings} of 100 turns of {one}, and in {more} of 100 of {other}. Both "
        "records are long. Who should bat?",
        f"{other}: {more} against {brings}",
        "One run is asked for, and more are worth nothing; the chance of that run decides.",
        (
            Wrongly(
                f"{one}: {strong} against {weak}", "the hitter who is best over a season is best everywhere"
            ),
            Wrongly(
                f"{one}: only a long hit is safe to score the runner",
                "what does most at once is what is most certain",
            ),
            Wrongly(
                "either: the two numbers point two ways", "where two numbers disagree nothing can be decided"
            ),
        ),
        {"strong": strong, "weak": weak, "brings": brings, "more": more},
    )


TEMPLATES: tuple[Template, ...] = (
    Template("what to divide by", "01", True, _denominator),
    Template("per try against per success", "01", False, _per_try),
    Template("small samples and the way back to the mean", "02", False, _small_sample),
    Template("the leader's excess", "05", True, _leaders_excess),
    Template("what an interval promises", "04", False, _interval),
    Template("launch angle from contact", "06", True, _launch_angle),
    Template("comparing like with like", "11", False, _like_with_like),
    Template("searching many", "03", True, _searching),
    Template("a chance as a forecast", "04", False, _forecast),
    Template("what a blank means", "13", True, _blank),
    Template("two rates and luck", "10", False, _two_rates),
    Template("what the situation asks", "12", True, _situation),
)
"""In the order of the forms: half in the sport, half outside."""
