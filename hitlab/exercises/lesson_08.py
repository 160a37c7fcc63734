"""Lesson 8, meet it on time: how long a pitch takes, and how much error of timing a swing forgives."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pandas as pd

from hitlab.exercises import frames, patterns
from hitlab.exercises.definitions import (
    Again,
    Bounds,
    Choice,
    Code,
    Exercise,
    Lesson,
    Number,
    Point,
    Sentence,
    TooMuch,
    Wrong,
    others,
)
from hitlab.exercises.shared import fresh
from hitlab.physics.meeting import fair_window, solid_window
from hitlab.physics.timing import mistime, time_pitch

__all__ = ["BAT_MPH", "FAST", "LESSON", "SLOW", "late_ms", "widest_ms", "window_ms"]

FAST, SLOW, BAT_MPH = 95.0, 80.0, 70.0
"""Release speeds of the lesson's two pitches, and the speed of its bat, in mph."""


def late_ms(expected_mph: float, thrown_mph: float) -> float:
    """Return how late a swing timed for one speed is on another, in ms; negative is early."""
    return float(mistime(expected_mph, thrown_mph).timing_error_ms)


def window_ms(release_mph: float) -> float:
    """Return how early or late a squarely hit ball may be and stay fair, in ms."""
    return float(fair_window(time_pitch(release_mph).meeting_mph, BAT_MPH).either_way_ms)


@cache
def widest_ms() -> float:
    """Return the widest window of all bats, distances and models that the lesson tries, in ms."""
    at_plate = time_pitch(FAST).meeting_mph
    bats, away = np.meshgrid(np.arange(50.0, 101.0, 5.0), np.arange(20.0, 41.0, 4.0))
    return max(
        float(fair_window(at_plate, bats, pivot_in=away, model=model).either_way_ms.max())
        for model in ("moving", "bat angle", "fixed")
    )


def _solid_ms(release_mph: float) -> float:
    return float(solid_window(time_pitch(release_mph).meeting_mph, BAT_MPH).either_way_ms)


@cache
def _slowest_fair(either_way_ms: float | None = None) -> float:
    speeds = np.arange(SLOW, FAST, 0.1)
    early = -mistime(FAST, speeds).timing_error_ms
    if either_way_ms is None:
        allowed = fair_window(time_pitch(speeds).meeting_mph, BAT_MPH).either_way_ms
    else:
        allowed = np.full(speeds.shape, either_way_ms)
    return float(speeds[early <= allowed].min())


def _verdict() -> str:
    return "holds" if late_ms(SLOW, FAST) > widest_ms() else "does not hold"


def on_time(late, spread, window, rng):  # type: ignore[no-untyped-def]
    errors = rng.normal(late, spread, 10_000)
    inside = np.abs(errors) <= window
    return inside.mean()


_on_time: Callable[..., float] = on_time


def _plan(rng: np.random.Generator) -> tuple[float, float, float, np.random.Generator]:
    late, spread, window = rng.uniform(-35, 35), rng.uniform(8, 40), rng.uniform(12, 36)
    return round(late), round(spread), round(window), fresh(rng)


def _on_time_surely(late: float, spread: float, window: float, _: np.random.Generator) -> float:
    from scipy.special import ndtr

    return float(ndtr((window - late) / spread) - ndtr((-window - late) / spread))


def _drawn_for_each_end(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    early_enough = rng.normal(late, spread, 10_000) <= window
    return float((early_enough & (rng.normal(late, spread, 10_000) >= -window)).mean())


def _not_too_late(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    return float((rng.normal(late, spread, 10_000) <= window).mean())


def _as_if_on_time(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    return _on_time(0, spread, window, rng)


def _outside(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    return 1 - _on_time(late, spread, window, rng)


def _count(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    return 10_000 * _on_time(late, spread, window, rng)


def _half_a_window(late: float, spread: float, window: float, rng: np.random.Generator) -> float:
    return _on_time(late, spread, window / 2, rng)


def misled(table):  # type: ignore[no-untyped-def]
    fouls = table[table["outcome"] == "foul"]
    opposite = fouls[fouls["spray_deg"] < 0]
    early = opposite["timing_ms"] < 0
    return early.sum() / len(opposite)


_misled: Callable[..., float] = misled


def _swings(rng: np.random.Generator) -> tuple[pd.DataFrame]:
    """Swings whose side follows the timing, but not always, and whiffs without a side."""
    timing = rng.normal(0, 14, 400)
    spray = -2.2 * timing + rng.normal(0, 25, 400)
    outcome = np.where(np.abs(spray) > 45, "foul", "fair")
    outcome[rng.random(400) < 0.25] = "foul"
    whiff = rng.random(400) < 0.2
    outcome[whiff] = "whiff"
    spray = np.where(whiff, np.nan, spray)
    return (pd.DataFrame({"outcome": outcome, "spray_deg": spray, "timing_ms": timing}),)


def _of_all_fouls(table: pd.DataFrame) -> float:
    fouls = table[table["outcome"] == "foul"]
    return float(((fouls["spray_deg"] < 0) & (fouls["timing_ms"] < 0)).sum() / len(fouls))


def _of_all_swings(table: pd.DataFrame) -> float:
    fouls = table[table["outcome"] == "foul"]
    return float(((fouls["spray_deg"] < 0) & (fouls["timing_ms"] < 0)).sum() / len(table))


def _fair_as_well(table: pd.DataFrame) -> float:
    return _misled(table[table["outcome"] != "whiff"].assign(outcome="foul"))


def _beyond_the_line(table: pd.DataFrame) -> float:
    return _misled(table[table["spray_deg"] < -45])


def _by_the_side(table: pd.DataFrame) -> float:
    return _misled(table.assign(timing_ms=table["spray_deg"]))


_SLOW = r"(?:[\w'-]+ ){0,4}(?:80|eighty|slow|soft|off-?speed|change|curve|breaking)"
_PLAN = (
    r"\b(?:timed|times?|timing|geared|set|sat|sits?|sitting|waits?|waiting|looks?|looking|plans?|planned|"
    r"tuned|"
    rf"keyed|guess\w*|ready|gears|gearing) (?:up )?(?:for|on|to|to hit) (?:an? )?{_SLOW}",
    rf"\b(?:tim(?:e|ed|es|ing)|gear\w*|set\w*) (?:his|your|her|the|a) swing (?:for|to|on) {_SLOW}",
    rf"\b(?:expect|anticipat|guess|look|hunt|sit)(?:e?s|e?d|ing|ting)? {_SLOW}",
    rf"\bplan is {_SLOW}",
    r"\b(?:80|eighty)(?: ?mph| miles)?(?:-mile)?.{0,25}\b(?:swing|plan|timing)",
    r"\bslow.{0,25}\b(?:swing|plan|timing)\b",
)
LATE_MS, WIDEST_MS, WINDOW_MS = 75, 36, 23
"""What the claim rests on, in whole ms: how late a swing timed for the slow pitch is on the fast one,
the widest window of all that was tried, and that of the lesson's bat."""

_LATE = (patterns.number(LATE_MS), r"(?<![\d.,])75\.1\b", r"(?<!\d)0?\.075\b")
_WINDOW = (
    r"\bwindow",
    r"\b(?:keep|kept|stay|be|hit|put|go|goes|call|called|it)(?:s|ing|ting)? (?:[\w'-]+ ){0,4}fair\b",
    r"\bfair (?:ball|territory|ground|window)",
    r"\bforgiv",
    r"\b(?:allow|tolerat|permit|can afford|leeway|margin)",
    r"\bfoul\b",
    r"\b(?:still|late for) (?:be )?fair\b|\b(?:not|isn't|no longer|is) fair\b",
    patterns.number(WIDEST_MS),
    patterns.number(WINDOW_MS),
)
_LIMIT = (
    r"\b(?:unless|if|provided|as long as|so long as|assuming|when) (?:[\w'-]+ ){0,8}"
    r"(?:plan|chang|adjust|mind|stick|sees?|spots?|recogni|reads?|react|hold|check|goes through|swings? as)",
    r"\b(?:as|you|he|they) planned\b|\bas he planned\b",
    r"\b(?:does not|doesn't|do not|don't|without) (?:[\w'-]+ ){0,2}?(?:chang|adjust)",
    r"\bmodel",
    r"\b(?:simulat|comput|calculat|reckon|estimate)",
    r"\bon paper\b|\bin theory\b|\bphysics\b",
    *patterns.DOUBT,
)

_BEYOND = (
    r"\bnot\b|n't\b|\bno\b|\bnever\b|\bnor\b|\bcannot\b|\bhardly\b|\bthan\b|\bwhat\b|\bhow\b|\btwice\b|"
    r"\bdouble\b|\btimes\b|\bhalf\b|\btoo late\b|\bbeyond\b|\boutside\b|\bif\b|\bwhether\b|\bwhen\b|\bmost\b|"
    r"\blimit\b|\bfoul\b|\bunless\b|\bfar from\b"
)
_TURNED_ROUND = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        patterns.clause_with(
            r"\b(?:within|inside) (?:[\w'-]+ ){0,4}(?:window|margin|leeway|allow|limit|fair)", _BEYOND
        ),
        patterns.clause_with(
            r"\b(?:still|is|are|stays|remains|keeps?|kept|calls?|called|put) (?:[\w'-]+ ){0,3}"
            r"fair\b(?! (?:window|ball|in no\b|only\b|for (?:36|23)\b))|"
            r"\benough to (?:be|stay|remain|keep) (?:[\w'-]+ ){0,2}fair\b|"
            r"\b(?:allows?|forgives?) (?:that much\b|it\b|that\b)|"
            r"\bmodels? (?:\w+ )?(?:allows?|forgives?)(?=$|[.,;:]| (?:so|and)\b)|"
            r"\bwindows? (?:\w+ )?(?:covers?|includes?|holds?|reach(?:es)?|suffices?)\b",
            _BEYOND,
        ),
        rf"(?:{'|'.join(_LATE)})[^.;:,]{{0,20}}\b(?:early|too soon|ahead)\b|"
        r"(?<!or )(?<!timed )\b(?:early|too soon|ahead of) (?:on |for )?(?:the )?(?:95|ninety|fast|heater)",
        r"\bhalf (?:of )?(?:what|as much as|as late as)\b[^.;:,]*\b(?:forgiv|allow|keep|fair)|"
        rf"(?:{patterns.number(LATE_MS)}) (?:seconds|minutes|miles|mph|percent|feet|inches)\b",
        r"\b(?:less|fewer|shorter|smaller) than (?:[\w'-]+ ){0,4}(?:window|allow|forgiv|fair|keep)",
        patterns.clause_with(
            rf"(?:{patterns.number(WIDEST_MS)}|{patterns.number(WINDOW_MS)}) ?(?:ms|milliseconds|thousandths)"
            r"(?: of a second)? (?:too )?(?:late|behind)\b",
            r"\bmost\b|\bup to\b|\bmay\b|\bcan\b|\bany\b|\bno\b|\bnot\b|allow|forgiv|window|\bor\b",
        ),
        rf"\b(?:window|forgiv\w*|allow\w*)\b(?:(?!than|half|twice)[^.;:,0-9]){{0,25}}"
        rf"(?:{'|'.join(patterns.number(int(other)) for other in (SLOW, FAST, LATE_MS))})",
        r"\b(?:widest|any|no|none|at most|the most|fair ball)\b[^.;]*\b23\b|"
        r"\b23\b[^.;,]*\b(?:most|any|widest)\b|"
        r"\b(?:36|23|half of (?:that|it)) at (?:the )?(?:very )?least\b|\boutside what cannot\b|"
        r"\b(?:forgives?|allows?) more than (?:about )?(?:75|80|95)\b|\b(?:times|twice|double) (?:the )?"
        r"(?:75|80|95)\b",
        r"\b(?:if|when|once) (?:he|she|you|the hitter|they) (?:changes?|adjusts?)\b|"
        r"\b(?:three|3) times (?:(?!than)[\w' -]){0,30}\b(?:any|every|widest|all)\b",
        r"\btoo (?:early|soon)\b|(?<!not )\b(?:in|on) time\b",
        r"\b(?:late|behind) (?:on |for |against |of )?(?:the |an? )?(?:80|eighty|slow|soft|off-?speed|"
        r"change|curve)",
        rf"\btimed for (?:the )?(?:95|ninety|fast)[^.;:,]{{0,40}}(?:{'|'.join(_LATE)})",
    )
)

_TIMED = (
    r"(?:timed|set|planned|meant|looking|waiting|sits?|ready|waits|guesses|made)(?: for| on)?"
    rf"{frames.fill('a an the')} (?:80|slow|offspeed|changeup|slower)(?: (?:one|pitch|ball|mph))*"
)
_ON_FAST = (
    rf"(?:(?:on|against|at|behind|to|getting){frames.fill('a an the')} )?(?:95|fastball|fast (?:one|ball|"
    r"pitch))(?: mph)?(?: pitch| fastball)?"
)
_MS = r"(?:milliseconds|ms|thousandths(?: of a second)?)"
_LATE_BY = rf"(?:75 {_MS}|\.075 seconds)"
_KEEPS = frames.fill(
    "what as much that any of a our ours the models? bat 's widest window swing ball keeps? "
    "forgives? allows? is in may be can it stays? fair for at most"
)
_OURS_KEEPS = frames.fill("what that a our ours the model bat 's window keeps? forgives? allows? is fair")
_FRAMES = (
    _TIMED,
    _ON_FAST,
    rf"(?:late by |by )?(?:about |roughly |some )?{_LATE_BY}(?: (?:late|behind))?(?: {_ON_FAST})?",
    r"(?:(?:more than|over|about|nearly|roughly|well over|far more than) )*(?:"
    rf"(?:twice|double){_KEEPS}(?: 36)?{_KEEPS}|"
    rf"(?:three|3) times(?:{_OURS_KEEPS}|(?: the)? 23{_OURS_KEEPS}))",
    r"unless (?:he|the hitter|she|you) (?:changes?|adjusts?)(?: (?:his|her|your|the) plan)?|"
    r"(?:as long as|if) (?:he|the hitter|she|the swing|you) (?:comes|stays|swings|swing) as planned|"
    r"as planned|swings as planned",
    r"(?:if|when) (?:he|his swing|the swing|a swing|you|a hitter|the hitter)(?! (?:changes?|adjusts?)\b)|"
    r"(?:he|whoever) who (?:waits|sits|looks)",
    rf"widest (?:fair )?window{frames.fill('for of a fair ball any in our models? is')} 36(?: {_MS})?|"
    rf"(?:fair )?window{frames.fill('for of a fair ball in our model is')} (?:36|23)(?: {_MS})?",
    rf"(?:no|none of our|no one) (?:bat|model|models|swing)s?{frames.fill('we modelled of ours')} "
    rf"(?:forgives?|keeps fair|allows?)(?: more than)?(?: (?:36|23))?(?: {_MS})?",
    rf"(?:36|23)(?: {_MS})? (?:is|are) (?:the most|all)(?: that)?{_KEEPS}|(?:a fair ball|a model|our "
    rf"model|any model) (?:allows|forgives) (?:only |just )?(?:36|23)(?: {_MS})?(?: at most)?",
    rf"(?:too late|too late for|(?:well |far )?outside|beyond){_KEEPS}",
    rf"(?:in|by|says|of) (?:any|our|a|every){frames.fill('model models of ours')}|a swing forgives half "
    r"of that at most|on paper|in theory",
    r"(?:will|would|can|could) not (?:stay|be) fair|(?:is|goes) foul(?: in every model)?|in our "
    r"calculation|while 36 ms is all",
    r"as long as it comes|whoever(?= waits)|more than any model (?:forgives|keeps fair)|in no model does "
    r"that stay fair|"
    r"arrives|will(?= be)|the bat of a hitter|our bat|model says|beats (?:you|him) by|never count on luck|"
    r"makes you",
    r"if you are timed for 80 and (?:get|see) 95|a swing (?:geared|timed|set)(?: up)? (?:to|for) 80|"
    r"geared(?: up)? for "
    r"the slow (?:one|ball)|sitting on 80",
    r"even the (?:most generous|widest|kindest) (?:model|window) (?:allows|forgives) only 36|"
    r"(?:twice|double) what (?:any|no) model(?: still)? keeps fair",
    r"(?:more than |over )?(?:twice|double) what any (?:model|fair ball)(?: still)? (?:keeps fair|allows|"
    r"could allow|forgives)|"
    r"twice what a fair ball allows",
    r"while (?:staying fair|no window in our models) forgives(?: more than)?(?: about)? 36(?: at the very "
    r"most| at most)?|"
    r"(?:and |does |if he )*(?:does )?not (?:change his plan|adjust)|reaches a 95|goes off as planned|"
    r"(?:a )?cut(?= timed for 80)|his bat gets there",
    r"no model we tried keeps a ball fair beyond 36|time your swing for 80 and the 95 beats you by|"
    r"the 36 that the widest model (?:forgives|allows)|if he does not adjust",
    r"(?:who )?(?:times|sets|has timed|has set) (?:his|her|the|a|your) swing for 80|no (?:model|window)(?: "
    r"of ours| we (?:tried|"
    r"have|made))? (?:keeps|holds|allows|makes) (?:that|it|this|such a ball) fair",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "08.fair-window",
        "predict",
        Bounds(lambda: window_ms(FAST), widest=10),
        (
            Wrong(
                (90, 100),
                "that is as long as a whole swing takes, nearly. In that time the ball travels more "
                "than ten feet.",
                when=lambda ends: ends[0] > 60,
            ),
            Wrong(
                (0.5, 3),
                "that small? Then nobody would ever hit a fair ball. The bat sweeps through fair ground "
                "for a while.",
                when=lambda ends: ends[1] < 8,
            ),
            Wrong(
                (5, 15),
                "that is what stricter models allow, in which the bat only turns, or the place of contact "
                "stays. Here that moves with the bat, and a ball may leave half a right angle off.",
                when=lambda ends: ends[1] < window_ms(FAST),
            ),
            Wrong(
                (30, 40),
                "that is what a slow bat is allowed that turns far from the body. This one has 70 miles an "
                "hour.",
                when=lambda ends: ends[0] > window_ms(FAST),
            ),
        ),
        (
            "A blink takes a tenth of a second, 100 milliseconds. It is much less than that.",
            "It is a few hundredths of a second: between 10 and 40 milliseconds.",
        ),
        lambda: f"About {window_ms(FAST):.0f} milliseconds early or late, and a square hit goes foul.",
        "two hundredths of a second, in a generous model. The blink of an eye is five times as long.",
        minutes=3,
    ),
    Exercise(
        "08.by-luck",
        "write",
        Code(on_time, _plan, tolerance=0.025, surely=_on_time_surely),
        (
            Wrong(_not_too_late, "a swing can be too early as well; that one counts as inside."),
            Wrong(_as_if_on_time, "those swings are on time on average. Where did late go?"),
            Wrong(_outside, "that is the share outside."),
            Wrong(_count, "that is how many of the 10,000. Asked is the share."),
            Wrong(
                _drawn_for_each_end,
                "you drew once for too late and once more for too early, so two swings are judged as one.",
            ),
            Wrong(_half_a_window, "the window goes that far to either side; you gave half of it to each."),
        ),
        (
            "rng.normal(late, spread, 10_000) draws them. Early ones are below 0.",
            "The size of an error, early or late, is np.abs(...); the mean of true and false is a share.",
        ),
        "Draw, take the size of each error, compare with the window, take the mean.",
        "three lines, and 'by luck he might' has a number.",
        minutes=5,
    ),
    Exercise(
        "08.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "the fastballs that he saw",
                "b": "the fastballs that he swung at",
                "c": "the fastballs that he touched",
                "d": "the fastballs that he put in play",
            },
        ),
        (
            Wrong("a", "most of those he let go by: there the bat tells nothing about time."),
            Wrong(
                "b",
                "a whiff has no direction: it does not say whether the bat was early, late, or over the "
                "ball.",
            ),
            Wrong("d", "the fouls are gone then, and the latest bats make fouls."),
        ),
        (
            "How do you know that a swing was late? From where the ball went.",
            "Only a touched ball goes anywhere.",
        ),
        "Lateness shows in the direction of the ball, so only contact can tell: late balls over contact.",
        "and the whiffs are reported beside it, because leaving them out is a choice, too.",
        minutes=3,
    ),
    Exercise(
        "08.fourteen-slower",
        "compute",
        Number(lambda: -late_ms(92.0, 78.0), tolerance=1.0),
        (
            Wrong(
                lambda: late_ms(92.0, 78.0),
                "the right size; early was asked for, so give it without the minus.",
            ),
            Wrong(
                lambda: float(time_pitch(78.0).time_s) * 1000, "that is how long the slow pitch takes in all."
            ),
            Wrong(
                lambda: float(time_pitch(92.0).time_s) * 1000, "that is how long the fast pitch takes in all."
            ),
            Wrong(92 - 78, "those are miles an hour. Asked is a time."),
        ),
        (
            "How long does each pitch take? The swing is timed for the shorter time.",
            "time_pitch(78).time_s less time_pitch(92).time_s, in thousandths of a second.",
        ),
        lambda: (
            f"{float(time_pitch(78.0).time_s) * 1000:.0f} ms less "
            f"{float(time_pitch(92.0).time_s) * 1000:.0f} ms is {-late_ms(92.0, 78.0):.0f} ms."
        ),
        "more than twice what the most generous window forgives. Fourteen miles an hour are another world.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "08.how-much-slower",
        "compute",
        Number(_slowest_fair, tolerance=0.35),
        (
            Wrong(
                lambda: _slowest_fair(_solid_ms(FAST)),
                "that is for solid contact. Asked is fair, which forgives more.",
            ),
            Wrong(lambda: FAST - window_ms(FAST), "those are milliseconds taken from miles an hour."),
            Wrong(
                lambda: FAST - _slowest_fair(),
                "that is by how much it may be slower. Asked is how fast it then is.",
            ),
        ),
        (
            "Go down from 95 and watch how early the swing gets.",
            "The last speed at which early_ms is not larger than the window.",
        ),
        lambda: (
            f"At {_slowest_fair():.1f} miles an hour the swing is {-late_ms(FAST, _slowest_fair()):.1f} "
            f"ms early, and {window_ms(_slowest_fair()):.1f} are allowed."
        ),
        "about five miles an hour, and less in other models: that is all a single plan covers. Beyond it "
        "the hitter has to see and wait.",
        minutes=5,
    ),
    Exercise(
        "08.pulled-fouls",
        "fault",
        Choice(
            "a",
            {
                "a": "fouls to the pull side speak for an early bat, not for a late one",
                "b": "the side of a foul tells where the pitch was, not when the bat came",
                "c": "a foul shows that he is on time, and only a whiff would show him late",
                "d": "he is late, but four fouls show that he is catching up, so slow him down",
            },
        ),
        (
            Wrong(
                "b",
                "the place of the pitch has a part in it; still, early goes mostly to one side, late to the "
                "other.",
            ),
            Wrong("c", "a foul is touched, and not on time. A whiff has no side and shows no lateness."),
            Wrong("d", "that follows him to the wrong side. Where does the bat point when it comes early?"),
        ),
        (
            "Where does the bat point when it gets there too soon?",
            "An early bat has turned too far, toward the pull side.",
        ),
        "An early bat has turned past the middle and sends the ball to the pull side. One foul may mislead, "
        "four on that side hardly. He is ahead of the fastball, and the next slow one may fool him.",
        "the same four fouls, the opposite advice.",
        minutes=4,
    ),
    Exercise(
        "08.misled",
        "complete",
        Code(misled, _swings, tolerance=1e-9),
        (
            Wrong(_of_all_fouls, "asked is out of the fouls to the opposite side, not out of all fouls."),
            Wrong(_of_all_swings, "asked is out of the fouls to the opposite side, not out of all swings."),
            Wrong(_fair_as_well, "the fair balls are still in it. Asked is about fouls."),
            Wrong(
                _beyond_the_line,
                "the opposite side begins at 0. A ball that leaves nearer than the line can still drift "
                "foul.",
            ),
            Wrong(
                _by_the_side, "that asks the side twice. Whether the bat was early stands in another column."
            ),
        ),
        (
            'The outcome is text: "foul". The sides part at 0.',
            "Early stands in timing_ms; and below the line go the fouls to the opposite side, len(opposite).",
        ),
        "Fouls only; of these the opposite side, below 0; of these the early ones, by how many there are.",
        "each line asks 'out of what', and the last one answers it.",
        minutes=5,
    ),
    Exercise(
        "08.later-in-may",
        "fault",
        Choice(
            "b",
            {
                "a": "beyond it: 20 points are half as many again as he had in April",
                "b": "within it: luck moves such a difference by about 13 points",
                "c": "beyond it: luck moves a share of 30 by about 9 points",
                "d": "within it: the side of a foul misleads, so no difference in it counts",
            },
        ),
        (
            Wrong("a", "how large it looks says nothing of how large luck is."),
            Wrong(
                "c", "that is one of the two shares. Both have luck in them, and their difference has more."
            ),
            Wrong(
                "d", "it misleads for one in eight, in both months. Many fouls can be counted for all that."
            ),
        ),
        (
            "Luck moves each of the two shares by about the root of 0.5 times 0.5 over 30.",
            "Of a difference the squares add up: the root of 2 times as much as one of them.",
        ),
        lambda: (
            f"Each share moves by {100 * (0.25 / 30) ** 0.5:.0f} points by luck, their difference by "
            f"{100 * (0.5 / 30) ** 0.5:.0f}; 20 is one and a half times that, and up to twice is within the "
            "noise."
        ),
        "he may be later. Sixty fouls cannot tell.",
        minutes=4,
    ),
    Exercise(
        "08.diver",
        "transfer",
        Number(14 * 0.08, tolerance=0.01),
        (
            Wrong(14 * 0.008, "0.08 seconds, not 0.008."),
            Wrong(14 / 0.08, "divided: how far does something go at 14 metres a second in 0.08 seconds?"),
            Wrong(14 * 80, "0.08 seconds, not 80."),
            Wrong(0.08, "that is the time. Asked is the distance."),
        ),
        (
            "Speed times time is distance.",
            "14 metres a second, for 0.08 seconds.",
        ),
        "14 times 0.08 is 1.12 metres; half the picture's width is one metre, so the diver is out of it.",
        "an error of time is an error of place, and speed is the exchange rate.",
        minutes=3,
    ),
    Exercise(
        "08.in-between",
        "compute",
        Number(lambda: late_ms(87.5, FAST), tolerance=0.8),
        (
            Wrong(lambda: -late_ms(87.5, SLOW), "that is how early he is on the slow one."),
            Wrong(lambda: late_ms(SLOW, FAST) / 2, "not quite half: the slow pitch is slow for longer."),
            Wrong(lambda: late_ms(SLOW, FAST), "that is for a swing timed for 80. His is timed for 87.5."),
        ),
        (
            "mistime(expected, thrown) gives the error of a swing timed for the first and thrown the second.",
            "mistime(87.5, 95).timing_error_ms",
        ),
        lambda: (
            f"{late_ms(87.5, FAST):.0f} ms late on the fast one and {-late_ms(87.5, SLOW):.0f} ms early "
            f"on the slow one; about {window_ms(FAST):.0f} are allowed."
        ),
        "timed for the middle, he is foul on both. A plan has to choose.",
        minutes=3,
        core=False,
    ),
    Exercise(
        "08.for-air",
        "say",
        Sentence(
            (
                Point("what", "a swing that is timed for the slow pitch", _PLAN),
                Point("how late", "in milliseconds, or thousandths", _LATE),
                Point("against what", "what may be fair, or what a swing forgives", _WINDOW),
                Point("with what limit", "a model, or that the swing comes as planned", _LIMIT),
            ),
            "A swing timed for eighty comes seventy-five thousandths late on ninety-five, twice what any "
            "model keeps fair, unless he changes his plan.",
            frames=_FRAMES,
            phrases=(
                "36 milliseconds",
                "23 milliseconds",
                "95 mph",
                "80 mph",
                "36",
                "23",
                "twice what may be fair in any model",
                "even the widest model allows only 36",
                "more than 36",
            ),
            figures=(SLOW, FAST, LATE_MS, WIDEST_MS, WINDOW_MS, 75.1, 0.075, 0.48, 3),
            too_much=(
                *_TURNED_ROUND,
                TooMuch(
                    r"\bimpossible\b|\bno chance\b|\bnobody (?:has )?ever\b|"
                    r"\bnever (?:[\w'-]+ )?(?:hits?|catch|touch|get|reach|keep|be|make|put)\b",
                    "that leaves no luck, and a few in 40,000 were on time by luck",
                ),
                TooMuch(
                    r"\b(?:will|is going to|has to|must) (?:[\w'-]+ )?(?:strike out|whiff|miss|swing "
                    r"through|lose)",
                    "that tells what will happen, and hitters change their plans",
                ),
                TooMuch(
                    r"\b(?:should|must|ought to) (?:always |\w+ )?(?:sit|look|wait|gear|be ready|time|throw)",
                    "that is advice, and what the other plan costs was not looked at",
                ),
            ),
            good=(
                "If he sits on the slow one he is 75 milliseconds late on the fastball, and the widest "
                "window for a fair ball is 36, as long as the swing comes as planned.",
                "On paper, waiting for the changeup means being seventy-five milliseconds late on 95, "
                "and a swing forgives half of that at most.",
                "Looking for eighty and getting ninety-five makes you 75 ms late, well outside any "
                "model's fair window.",
                "A hitter who guesses slow is seventy-five thousandths of a second behind 95, too late to "
                "keep it fair unless he adjusts.",
                "A swing timed for 80 will be 75 ms late on 95, more than double what any model keeps fair; "
                "he can never count on luck.",
                "Timed for the slow one, he is .075 seconds late on 95, three times the 23 that our model "
                "forgives.",
            ),
            bad=(
                (
                    "He will be 75 milliseconds late on the fastball, more than a fair ball allows in "
                    "any model.",
                    "what",
                ),
                (
                    "A swing timed for the slow pitch is far too late to keep the fast one fair in any "
                    "model.",
                    "how late",
                ),
                (
                    "In a model, a swing timed for eighty is 75 milliseconds late on ninety-five.",
                    "against what",
                ),
                (
                    "A swing timed for eighty is 75 milliseconds late on ninety-five, twice the window.",
                    "with what limit",
                ),
                (
                    "It is impossible to keep it fair: a swing timed for eighty is 75 milliseconds late as "
                    "planned.",
                    "too much",
                ),
                (
                    "Timed for the slow one he is 75 milliseconds late, outside any model's window, and "
                    "will strike out.",
                    "too much",
                ),
                (
                    "In our model a swing timed for eighty is 75 milliseconds late on ninety-five, well "
                    "within the window for a fair ball.",
                    "too much",
                ),
                (
                    "A swing timed for eighty is 75 milliseconds early on ninety-five, outside any model's "
                    "fair window.",
                    "too much",
                ),
                (
                    "A swing timed for eighty comes 75 milliseconds late on ninety-five, and any model still "
                    "keeps that fair.",
                    "too much",
                ),
                (
                    "Sitting on the slow one makes you 75 ms late, which is still fair in any model.",
                    "too much",
                ),
                (
                    "A swing timed for eighty is 75 milliseconds late on 95, less than any model's window.",
                    "too much",
                ),
                (
                    "A swing timed for eighty is 75 milliseconds late on 95, and a model forgives 90.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Begin with the plan: timed for which pitch, thrown which. Then how late, and how late one "
            "may be.",
            "For instance: a swing timed for so much comes so many thousandths late on so much, more "
            "than any model keeps fair, unless ...",
        ),
        "The plan, how late it is, what a fair ball allows, and that it is about swings as planned.",
        "the catcher was right, and now he has a number and a limit.",
        minutes=4,
    ),
)


def _again_place(rng: np.random.Generator) -> tuple[str, Exercise]:
    what, speeds, where = (
        (
            "A ball comes at {} metres a second; the racket is there {} milliseconds late",
            (20, 25, 40),
            "the ball",
        ),
        ("A cyclist rides {} metres a second; the camera goes off {} milliseconds late", (10, 12, 15), "he"),
        ("A train passes at {} metres a second; the signal comes {} milliseconds late", (25, 30, 50), "it"),
    )[int(rng.integers(3))]
    speed, late = int(rng.choice(speeds)), int(rng.choice([20, 40, 60, 80]))
    right = speed * late / 1000
    return (
        f"{what.format(speed, late)}. How many metres has {where} gone meanwhile? Two decimals.",
        Exercise(
            "08.again-place-of-time",
            "compute",
            Number(right, tolerance=0.02 * right),
            (
                Wrong(speed * late, "milliseconds are thousandths of a second."),
                Wrong(speed * late / 100, "a millisecond is a thousandth of a second, not a hundredth."),
                Wrong(1000 * speed / late, "divided: how far is speed times time."),
            ),
            ("Speed times time.", f"{speed} times {late} thousandths."),
            f"{speed} times {late / 1000:g} is {right:g} metres.",
            "an error of time is an error of place.",
            minutes=1,
        ),
    )


def _again_side(rng: np.random.Generator) -> tuple[str, Exercise]:
    who, takes_ms = (
        ("A hitter", 430),
        ("A hitter", 450),
        ("A softball hitter", 415),
        ("A young hitter", 520),
    )[int(rng.integers(4))]
    early, in_time = bool(rng.integers(2)), rng.random() < 1 / 3
    gap = int(rng.choice([8, 12, 15] if in_time else [60, 65, 70]))
    planned = takes_ms - gap if early else takes_ms + gap
    side = "pull" if early else "opposite"
    right = "c" if in_time else "a" if early else "b"
    off = f"off by {gap}, and 25 are forgiven."
    turned = "which comes first, the bat or the ball? The bat has turned too " + (
        "far when the ball comes." if early else "little when the ball comes."
    )
    why = {
        "a": f"he is {off}" if in_time else turned,
        "b": f"he is {off}" if in_time else turned,
        "c": f"he is {off}",
        "d": "luck has its part, and one foul in eight misleads. The others tell.",
    }
    if in_time:
        why["b" if early else "a"] = turned
    return (
        f"{who}'s swing is planned for a ball that takes {planned} milliseconds, and the ball takes "
        f"{takes_ms}. The bat may be off by 25. What becomes of a ball that he still touches?",
        Exercise(
            "08.again-which-side",
            "predict",
            Choice(
                right,
                {
                    "a": "it goes to the pull side, too far to be fair",
                    "b": "it goes to the opposite side, too far to be fair",
                    "c": "it may be fair: he is off by no more than is forgiven",
                    "d": "its side tells nothing, as luck decides it",
                },
            ),
            others(why, right),
            (
                "Is the bat early or late, and by how much?",
                f"By {gap} milliseconds; early goes to the pull side, and 25 are forgiven.",
            ),
            f"{gap} milliseconds {'early' if early else 'late'}: "
            + ("25 are forgiven, so it may be fair." if in_time else f"the {side} side, and foul."),
            "early to the pull side, late to the other; how far off decides whether it is fair.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "08",
    "Meet it on time",
    _verdict,
    f"Timed for the slow pitch a swing that comes as planned is {LATE_MS} milliseconds late on the fast one, "
    "more than twice the widest window of any bat and model that was tried; who changes his plan in time is "
    "another case.",
    EXERCISES,
    (Again("08.again-place-of-time", _again_place), Again("08.again-which-side", _again_side)),
)
