"""Lesson 7, follow the ball: speed, angle, air, and how far a ball carries."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

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
from hitlab.physics.air import air_density
from hitlab.physics.flight import Conditions, fly

__all__ = ["BACKSPIN_RPM", "LESSON", "best_angle", "carry"]

BACKSPIN_RPM = 2000.0
"""Backspin of the lesson's balls: near the average of a fly ball (2,237 rpm at 25 degrees to centre field in
Nathan's model, as quoted)."""


def carry(
    exit_mph: float, launch_deg: float, *, density_kg_m3: float = 1.194, wind_out_mph: float = 0.0
) -> float:
    """Return how far a ball carries, in feet."""
    where = Conditions(density_kg_m3=density_kg_m3, wind_out_mph=wind_out_mph)
    return float(fly(exit_mph, launch_deg, 0.0, BACKSPIN_RPM, conditions=where).carry_ft)


@cache
def best_angle(exit_mph: float, density_kg_m3: float = 1.194) -> float:
    """Return the launch angle that carries farthest, to a quarter of a degree."""
    angles = np.arange(10, 60.01, 0.25)
    where = Conditions(density_kg_m3=density_kg_m3)
    spin = BACKSPIN_RPM if density_kg_m3 else 0.0
    return float(angles[fly(exit_mph, angles, 0.0, spin, conditions=where).carry_ft.argmax()])


def _up_high() -> float:
    return float(air_density(5000.0, 70.0, 50.0))


def _verdict() -> str:
    return "holds" if abs(best_angle(100.0) - 45) < 3 else "does not hold"


def flight(ahead, up, hold):  # type: ignore[no-untyped-def]
    x, y, step = 0.0, 3.0, 0.01
    while y > 0:
        drag = hold * np.hypot(ahead, up)
        ahead, up = ahead - drag * ahead * step, up - (32.2 + drag * up) * step
        x, y = x + ahead * step, y + up * step
    return x


def _shot(rng: np.random.Generator) -> tuple[float, float, float]:
    speed, angle = rng.uniform(90, 160), np.radians(rng.uniform(15, 55))
    return float(speed * np.cos(angle)), float(speed * np.sin(angle)), float(rng.uniform(0.0012, 0.0025))


def _other_flight(ahead: float, up: float, hold: float, mistake: str) -> float:
    """Fly with one of the gaps filled as people fill it."""
    x, y, step = 0.0, 3.0, 0.01
    speed = np.hypot(ahead, up)
    ground = 3.0 if mistake == "ground" else 0.0
    while y > ground:
        whole = np.hypot(ahead, up)
        from_ahead = whole if mistake == "whole" else ahead
        from_up = {"whole": whole, "ahead": ahead}.get(mistake, up)
        moves = {"path": whole, "first": speed}.get(mistake, ahead - hold * whole * from_ahead * step)
        ahead -= hold * whole * from_ahead * step
        up -= (32.2 + hold * whole * from_up) * step
        x, y = x + moves * step, y + up * step
    return float(x)


def _whole_drag(ahead: float, up: float, hold: float) -> float:
    return _other_flight(ahead, up, hold, "whole")


def _drag_of_the_other(ahead: float, up: float, hold: float) -> float:
    return _other_flight(ahead, up, hold, "ahead")


def _whole_path(ahead: float, up: float, hold: float) -> float:
    return _other_flight(ahead, up, hold, "path")


def _first_speed(ahead: float, up: float, hold: float) -> float:
    return _other_flight(ahead, up, hold, "first")


def _from_the_bat(ahead: float, up: float, hold: float) -> float:
    return _other_flight(ahead, up, hold, "ground")


def by_luck(first, second, rng):  # type: ignore[no-untyped-def]
    seen = abs(first.mean() - second.mean())
    both, apart = np.append(first, second), []
    for _ in range(1_000):
        rng.shuffle(both)
        apart.append(abs(both[: len(first)].mean() - both[len(first) :].mean()))
    return np.mean(np.array(apart) >= seen)


_by_luck: Callable[..., float] = by_luck


def _dealt_surely(first: np.ndarray, second: np.ndarray, _: np.random.Generator) -> float:
    deals = np.random.default_rng(0).permuted(np.tile(np.append(first, second), (40_000, 1)), axis=1)
    apart = deals[:, : len(first)].mean(axis=1) - deals[:, len(first) :].mean(axis=1)
    return float(np.mean(np.abs(apart) >= abs(first.mean() - second.mean()) - 1e-9))


def _dealt(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    both = np.append(first, second)
    dealt = np.empty((1_000, len(both)))
    for row in dealt:
        rng.shuffle(both)
        row[:] = both
    return np.asarray(dealt[:, : len(first)].mean(axis=1) - dealt[:, len(first) :].mean(axis=1))


def _two_hitters(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, np.random.Generator]:
    """Short lists, and in one of them a ball far off: drawn twice or not at all, it would make the gap."""
    first = rng.normal(380, 15, int(rng.integers(8, 14)))
    second = rng.normal(380 + rng.uniform(-8, 8), 15, int(rng.integers(8, 14)))
    first[0] -= rng.uniform(150, 220)
    return first, second, fresh(rng)


def _nearer(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> float:
    return 1 - _by_luck(first, second, rng)


def _one_side(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> float:
    return float(np.mean(_dealt(first, second, rng) >= abs(first.mean() - second.mean())))


def _how_many(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> float:
    return 1_000 * _by_luck(first, second, rng)


def _each_redrawn(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> float:
    seen = abs(first.mean() - second.mean())
    apart = [abs(rng.choice(first, len(first)).mean() - rng.choice(second, len(second)).mean())
             for _ in range(1_000)]  # fmt: skip
    return float(np.mean(np.array(apart) >= seen))


def _drawn_back(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> float:
    both, apart = np.append(first, second), []
    for _ in range(1_000):
        drawn = rng.choice(both, len(both))
        apart.append(abs(drawn[: len(first)].mean() - drawn[len(first) :].mean()))
    return float(np.mean(np.array(apart) >= abs(first.mean() - second.mean())))


_FARTHEST = (
    r"\bfar(?:thest|ther)\b",
    r"\bfurth(?:est|er)\b",
    r"\blong(?:est|er)\b",
    r"\b(?:most|more|best|maximum|greatest) (?:[\w'-]+ ){0,2}(?:carry|distance|range|feet)",
    r"\bcarr(?:y|ies|ied)\b.{0,30}\b(?:best|most)\b",
    r"\bbest (?:launch |take-?off )?angle",
    r"\b(?:goes|go|flies|fly) best\b",
    r"\bfor (?:carry|distance|range)\b",
)
SCHOOL_DEG, HIT_MPH = 45, 100
"""The schoolboy's best angle, in degrees, and how hard the ball of the claim is hit, in mph."""

NEAR_BEST_DEG = (28, 29, 30, 31, 32)
"""Angles whose carry is within a foot of the farthest, so that each may be called the best."""

_BEST = rf"(?:{'|'.join(patterns.number(angle) for angle in NEAR_BEST_DEG)})"
_SCHOOL = rf"(?:{patterns.number(SCHOOL_DEG)})"

_THIRTY = (
    r"(?<![\d.,])(?:28|29|30|31|32)(?:\.\d)?\b(?! ?%)",
    r"\b(?:twenty-?\s?(?:eight|nine)|thirty(?:-?\s?(?:one|two))?|low thirties|high twenties)\b",
)
_FORTY_FIVE = (
    r"(?<![\d.,])45\b",
    r"\bforty-?\s?five\b",
    r"\bschool|\btextbook|\bclassroom",
)
_SUPERLATIVE = (
    r"\b(?:farthest|furthest|longest|best|most|"
    r"(?:farther|further|longer)(?! (?:below|under|down|off|from)))\b"
)
_IN_SCHOOL = r"\bmoon|\bvacuum|\bwithout|\bno air|\bstone|\bschool|\btextbook|\bclass"
_NOT_SO = (
    r"\bnot\b|n't\b|\binstead|\brather|\bthan\b|\bnever\b|\bnor\b|\bfrom\b|\bbelow\b|\bunder\b|\bshort\b|"
    r"\bless\b|\bflatter\b|\blower\b|\bwhile\b|\bwhereas\b|\bbut\b"
)
_TURNED_ROUND = (
    TooMuch(
        patterns.clause_with(rf"{_SUPERLATIVE}(?:(?!{_NOT_SO}|{_BEST})[^.;:,]){{0,60}}?{_SCHOOL}", _IN_SCHOOL)
        + rf"(?![^.;:,]{{0,60}}(?:{_IN_SCHOOL}))",
        patterns.TURNED,
    ),
    TooMuch(
        patterns.clause_with(
            rf"{_SCHOOL}(?: degrees?)?(?:(?!{_NOT_SO}|{_IN_SCHOOL}|{_BEST})[^.;:,]){{0,60}}?{_SUPERLATIVE}",
            rf"{_IN_SCHOOL}|{_NOT_SO}|{_BEST}",
        )
        + rf"(?![^.;:,]{{0,60}}(?:{_IN_SCHOOL}))",
        patterns.TURNED,
    ),
    TooMuch(
        rf"{_BEST}(?: degrees)?(?:,? and)? (?:at )?(?:the )?(?:schoolboy's |textbook )?{_SCHOOL}|"
        rf"(?:{_BEST})[^.;:,]*, (?:at )?the (?:schoolboy's |textbook ){_SCHOOL}(?: degrees)?(?=$|[.,;:])|"
        rf"\bnot (?:at )?(?:the )?(?:schoolboy's |textbook ){_BEST}|\b(?:hit|struck) at {_BEST}(?! degrees)",
        patterns.TURNED,
    ),
    TooMuch(
        rf"\b(?:not|never|instead of|rather than) (?:at )?(?:about |around |roughly |near )?{_BEST}|"
        rf"\b(?:farther|further|longer|better|more) than (?:at )?(?:about |around |roughly )?{_BEST}|"
        rf"{_BEST}[^.;:,]{{0,12}}\b(?:falls?|comes?|is|are|ends?) (?:\w+ )?(?:short|less)\b|"
        rf"\b(?:up|rais\w+|rises?|lift\w*) (?:\w+ ){{0,3}}?to (?:about |around |roughly )?{_SCHOOL}|"
        rf"{_SCHOOL}[^.;]{{0,15}}\b(?:above|over|beyond|beats?) (?:the )?{_BEST}|"
        rf"{_BEST}(?: degrees)? (?:is|are|would be) (?:far |much |way |the )?(?:too|wrong|worse|worst)\b|"
        rf"\b(?:between|halfway)\b[^.;:]{{0,30}}{_SCHOOL}",
        patterns.TURNED,
    ),
)
_WHICH = (
    r"\b(?:in|through|with|of|has|have|our|the) (?:[\w'-]+ )?(?:air|atmosphere)\b",
    r"\bair (?:resistance|drag)|\bdrag\b|\bair\b",
    r"\b(?:hit|struck|hammered|smoked|crushed|batted|spinning|well-hit|hard-hit|well-struck) (?:[\w'-]+ "
    r"){0,2}",
    r"\b(?:back)?spin",
    r"\b(?:100|a hundred|one hundred)\b",
    r"\bthis hard\b|\bthat hard\b|\bthis speed\b|\bthat speed\b",
    r"\bbaseballs?\b",
)
_ABOUT = (
    r"\b(?:about|around|roughly|approximately|nearly|near|some|close to|or so|more "
    r"like|somewhere|say|give or take|in the|circa)\b",
    r"-ish\b",
    r"\b(?:model|simulat|comput|calculat|reckon|estimate|measure)",
    r"\b(?:usually|typically|on average|as a rule|normally|mostly)\b",
    r"\b(?:between|from) (?:28|29|twenty)",
    *patterns.CHANCE,
    *patterns.DOUBT,
)

_NEAR_30 = (
    r"(?:(?:at|near|of|is|to|about|around|roughly|some|somewhere|angle|leaves|leave) )*(?:28|29|30|31|32)"
    r"(?: or (?:30|31))?(?: degrees?)?(?= (?:,|and|not|rather|instead|in|for|than|is|goes|carries|well|"
    r"with|makes|"
    r"through|flies|travels|when|would|on|beats|to|the best))"
)
_AT_45 = (
    r"(?:the )?(?:(?:schoolboy|schoolbook|textbook|book)(?: 's)? )?45(?: degrees)?"
    r"(?: (?:of|from)(?: the| a)? (?:textbook|schoolboy|schoolbook|book|vacuum|physics class))?"
)
_FAR = (
    r"(?:(?:would|will|to) )?(?:go|goes|flies|fly|carr(?:ies|y)|travels|leaves)(?: really| it)? (?:the "
    r")?(?:farthest|furthest|best|"
    r"longest)|"
    r"goes its longest way|(?:the )?(?:longest|farthest)(?: hard hit| fly)* (?:ball|drive)"
)
_BALL = frames.fill(
    "an? the this such ball balls hard hit hits struck in through with our real normal usual air "
    "drag and spin backspin when it is for at of carry distance fly"
)
_HARD = r"(?:hit|struck)(?: at)?(?: (?:this|that|so))? (?:hard|100(?: mph| miles an hour)?)"
_FRAMES = (
    rf"(?:{_FAR}){_BALL}(?: {_NEAR_30})?|{_NEAR_30}(?: (?:is|goes|carries|flies)(?: the)? (?:best|"
    rf"farthest)(?: angle)?{_BALL})?",
    rf"(?:the )?(?:best|right) (?:launch )?angle{_BALL}(?: (?:down )?from 45)?(?: (?:is|to))*(?: "
    rf"{_NEAR_30})?|makes {_NEAR_30}",
    rf"the angle that (?:carries|sends){_BALL} (?:the )?farthest(?: is)?(?: {_NEAR_30})?",
    rf"(?:not|rather than|instead of|well below|well under|far below|beats)(?: at| near| in)* {_AT_45}(?= "
    r"(?:,|for|in))",
    rf"{_AT_45}{frames.fill('is works holds goes only right true best fine farthest')}(?: for)? (?:(?:a "
    r"stone )?on the moon|in a vacuum|"
    r"where there is no air|without (?:any )?air|with no air)",
    r"(?:on the moon|in a vacuum|take away the air)(?: ,)?(?: and)?(?: it is| it 's| that is)? "
    rf"{_AT_45}(?: goes farthest)?",
    rf"{_AT_45} (?:is|would be) (?:too (?:steep|high)|off|wrong)|at 45 (?:they|it) loses? distance|45 "
    r"would lose it feet|forget 45",
    r"(?:the )?(?:schoolboy|schoolbook|textbook)(?: 's)?(?: (?:says|answer|number|is|forgot))* ?(?:45(?: "
    r"degrees)?)?(?= ,| holds| works)",
    rf"{_HARD}|hard hit|hit hard|(?:a speed of|hit at|at|of|with) 100(?: mph| miles an hour)?|2000 turns "
    r"a minute|every ball|"
    r"fly balls?|hit a spinning ball(?: this hard)?",
    r"(?:in|through|with|of)(?: our| the| real| normal)* air|for distance|real air|air changes|because of "
    r"drag|if a ball is|spinning",
    r"(?:according to |in |says |our |the |an? )*model(?: of the air)?(?: says| puts| has)?|the air makes|"
    r"wants to leave",
    r"(?:, )?not (?:at )?(?:the )?(?:schoolboy 's )?45(?: degrees)? (?:that )?they teach(?: you)? (?:in|"
    r"at) school|"
    r"not at the schoolboy 's 45",
    rf"{_AT_45} (?:would be|is) right(?: (?:without|with no) air| where there is no air| on the moon)",
    r"(?:the )?(?:longest carry comes|greatest distance(?: comes)?)(?: at| when it leaves)|in ours|(?:so "
    r"the )?calculation says|"
    r"going by published measurements of flight|(?:still air )?at sea level|off the bat|100(?= mph)",
    r"(?:an?|with|and) (?:usual|normal) backspin|with drag and the usual backspin",
    r"(?:the )?schoolboy 's 45(?: degrees)? only works in a vacuum",
    rf"not {_AT_45} but {_NEAR_30}(?: (?:sends|carries|takes))?|(?:sends|carries|takes){_BALL}(?: the)? "
    r"farthest|"
    rf"(?:rather|not steeper|more) than {_AT_45}|with air in the way",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "07.best-angle",
        "predict",
        Bounds(lambda: best_angle(100.0), widest=6),
        (
            Wrong(
                (43, 47),
                "that is the school-book answer, for a stone in a vacuum. Air slows the ball all the way.",
                when=lambda ends: ends[0] >= 38,
            ),
            Wrong(
                (10, 16),
                "that is a line drive. It is in the air for too short a time to go far.",
                when=lambda ends: ends[1] <= 22,
            ),
            Wrong(
                (20, 26),
                "that takes off too much: so flat a ball is down before the air has had its share.",
                when=lambda ends: ends[1] < best_angle(100.0),
            ),
            Wrong(
                (31, 36),
                "drag is taken off, it seems, and the backspin not, or not in full. Need a ball that is held "
                "up be sent up as steeply?",
                when=lambda ends: ends[0] > best_angle(100.0),
            ),
        ),
        (
            "Air takes most from what is on its way for long, so steep balls lose most.",
            "And backspin holds a flat ball up. Together they take about a third off the 45 degrees.",
        ),
        lambda: f"At 100 miles an hour the farthest ball leaves at about {best_angle(100.0):.0f} degrees.",
        "far below 45. Two things bring it down, and the next exercise takes one of them by itself.",
        minutes=3,
    ),
    Exercise(
        "07.step-by-step",
        "complete",
        Code(flight, _shot, tolerance=4.0, cases=6),
        (
            Wrong(
                _whole_drag,
                "each part of the speed loses in proportion to itself; you took the whole drag from both.",
            ),
            Wrong(
                _drag_of_the_other,
                "the part that goes up loses in proportion to the part that goes up.",
            ),
            Wrong(_whole_path, "that is the length of the path, up and down. Carry goes along the ground."),
            Wrong(_first_speed, "the ball moves on as fast as it is now, and not as it left the bat."),
            Wrong(
                _from_the_bat, "it ends before it has begun: it leaves at 3 feet, and the ground is lower."
            ),
        ),
        (
            "Each part of the speed stands three times: it loses to drag, and it moves the ball on.",
            "The ground is at 0. Each second drag * ahead goes from ahead, and drag * up from up.",
        ),
        "Until the ground, at 0; ahead loses by ahead, up by up; and along the ground it moves with ahead.",
        "six lines, and they fly a ball. Put hold at 0 and 45 degrees is right again.",
        minutes=7,
    ),
    Exercise(
        "07.by-luck",
        "write",
        Code(by_luck, _two_hitters, tolerance=0.08, surely=_dealt_surely),
        (
            Wrong(
                _nearer, "that is how often they lie nearer to each other. Asked is at least as far apart."
            ),
            Wrong(_one_side, "on whichever side: a gap of four feet the other way counts as well."),
            Wrong(_how_many, "that is how many of the 1,000. Asked is the share."),
            Wrong(
                _drawn_back,
                "your balls are drawn with replacement, so that one comes twice and another not at all. Deal "
                "out the same ones: rng.shuffle.",
            ),
            Wrong(
                _each_redrawn,
                "you drew each hitter's own balls again, and so kept them apart. If they are alike, the "
                "balls are to be dealt out from one heap.",
            ),
        ),
        (
            "One heap: np.append(first, second). Shuffle it, deal the first len(first) to one, the rest "
            "to the other.",
            "Keep abs(...) of the gap between the two averages each time; the share that is at least the gap "
            "seen is asked.",
        ),
        "The gap seen; the same gap for 1,000 deals from one heap; the share of those at least as large.",
        "no formula, and it works for any two lists: of balls, of parks, of swimmers.",
        minutes=7,
    ),
    Exercise(
        "07.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "average feet over her home runs",
                "b": "average feet over all her balls in play",
                "c": "average feet over all balls that she hit up",
                "d": "average feet of each game's longest ball",
            },
        ),
        (
            Wrong(
                "a",
                "home runs are picked because they went far; a wind that kills drives leaves no trace "
                "in them.",
            ),
            Wrong(
                "b", "that has her grounders in it, and no wind moves these. She was asked about the others."
            ),
            Wrong(
                "d", "the longest of many was picked because it was long, and on a still day it was longer."
            ),
        ),
        (
            "Which balls could have been helped or hurt by the air, and are all of them counted?",
            "Count every ball that flew, not only those that cleared something.",
        ),
        "The question is about what the air does to a ball that she hits up. All such balls belong "
        "below the line.",
        "whoever counts only what cleared the fence has already let the wind choose.",
        minutes=3,
    ),
    Exercise(
        "07.feet-per-mile",
        "compute",
        Number(lambda: carry(86, 28) - carry(85, 28), tolerance=0.25),
        (
            Wrong(
                lambda: carry(85, 28) / 85,
                "that is the whole carry over the whole speed. Asked is what one more mile an hour adds.",
            ),
            Wrong(lambda: carry(95, 28) - carry(85, 28), "that is for ten miles an hour."),
            Wrong(lambda: carry(85, 28), "that is the carry itself. Asked is what one more mile adds."),
            Wrong(
                8,
                "that is not what the curves for 80 and 90 miles an hour show. How far apart are their tops, "
                "and what is a tenth of that?",
                when=lambda given: given > 0,
            ),
        ),
        (
            "Work out the carry at 86 and at 85 miles an hour, at 28 degrees.",
            "Subtract the two.",
        ),
        lambda: f"{carry(86, 28):.1f} less {carry(85, 28):.1f} is {carry(86, 28) - carry(85, 28):.1f} ft.",
        "about five feet a mile an hour. Ten more miles an hour turn a caught ball into a home run.",
        minutes=4,
    ),
    Exercise(
        "07.mountain-air",
        "compute",
        Number(
            lambda: carry(100, 28, density_kg_m3=_up_high()) - carry(100, 28),
            tolerance=0.7,
        ),
        (
            Wrong(
                lambda: carry(100, 28) * (1.194 / _up_high() - 1),
                "carry does not grow as the air thins, step for step: drag is only part of what stops "
                "the ball, and thin air lifts less too.",
            ),
            Wrong(
                lambda: carry(100, 28, density_kg_m3=_up_high()),
                "that is the carry up there. Asked is how much farther.",
            ),
            Wrong(
                lambda: carry(100, 28, density_kg_m3=0.0) - carry(100, 28),
                "that is without any air at all.",
            ),
            Wrong(
                60,
                "that does not fit the table of parks. It has a mile up, a little higher still, so yours has "
                "to come out a little below that.",
                when=lambda given: given > 0,
            ),
        ),
        (
            "First air_density(5000, 70, 50), then fly with Conditions(density_kg_m3=...).",
            "Subtract the carry at sea level, Conditions() without anything.",
        ),
        lambda: (
            f"The air density is {_up_high():.3f} kg/m3; the ball carries "
            f"{carry(100, 28, density_kg_m3=_up_high()):.0f} ft against {carry(100, 28):.0f}."
        ),
        "a good twenty feet: the same swing, another park. Compare hitters only after the air is taken out.",
        minutes=5,
        core=False,
    ),
    Exercise(
        "07.hardest-ball",
        "fault",
        Choice(
            "c",
            {
                "a": "the wind is left out: against one, a ball at 105 comes down well short of 440",
                "b": "the spin is left out: without any, a ball at 105 comes down well short of 440",
                "c": "the angle is left out: at 8 degrees a ball at 105 comes down well short of 440",
                "d": "the park is left out: at sea level a ball at 105 comes down well short of 440",
            },
        ),
        (
            Wrong(
                "a",
                "against a wind of ten miles an hour it still carries 390 feet when it leaves at 28 degrees. "
                "Much more than that is missing.",
            ),
            Wrong(
                "b",
                "without any spin it still carries 384 feet when it leaves at 28 degrees. Much more than "
                "that is missing.",
            ),
            Wrong("d", "440 feet are for sea level already."),
        ),
        (
            "Follow one curve in the picture of 'Look' from left to right.",
            "Where does a curve stand at 8 degrees?",
        ),
        lambda: (
            f"With this spin a ball at 105 miles an hour carries {carry(105, 28):.0f} ft at 28 degrees and "
            f"{carry(105, 8):.0f} ft at 8. The paper took the first number for the second ball."
        ),
        "it takes both, the speed and the angle.",
        minutes=4,
    ),
    Exercise(
        "07.swimmers",
        "transfer",
        Choice(
            "a",
            {
                "a": "little: 1.5 seconds are left, and two swims differ by more than that anyway",
                "b": "a good deal: 6.5 seconds are more than three times what one swim differs by",
                "c": "a good deal: the pool is taken out, so the 1.5 seconds left are the training",
                "d": "little: 5 of 6.5 seconds came from the pool, so 1.5 of 6.5 from training",
            },
        ),
        (
            Wrong("b", "five of them came with the pool; everybody had these."),
            Wrong("c", "the pool is out, and the noise is still in. How far do two swims lie apart anyway?"),
            Wrong("d", "those 1.5 seconds are nobody's yet: first ask whether luck alone gives as much."),
        ),
        (
            "First take out the pool. Then ask how much two swims of one swimmer differ by luck.",
            "6.5 less 5; and two swims, each with 2 seconds of noise, differ by 2 times the root of 2.",
        ),
        lambda: (
            f"6.5 less 5 leaves 1.5 seconds; two swims of anybody differ by about {2 * 2**0.5:.1f} "
            f"seconds, so "
            "1.5 is within the noise."
        ),
        "before you praise the swimmer, take out the pool. And then ask about the noise.",
        minutes=4,
    ),
    Exercise(
        "07.headwind",
        "compute",
        Number(
            lambda: carry(100, 28) - carry(100, 28, wind_out_mph=-10.0),
            tolerance=0.8,
        ),
        (
            Wrong(
                lambda: carry(100, 28, wind_out_mph=10.0) - carry(100, 28), "that is the wind from behind."
            ),
            Wrong(
                lambda: carry(100, 28) - carry(90, 28),
                "that takes the wind off the ball's speed. The ball loses only what the air drags off "
                "it on the way.",
            ),
            Wrong(
                20,
                "that does not fit the table of parks. It has a wind of eight from behind; ten against the "
                "ball take more than that gives, and not twice as much.",
                when=lambda given: given > 0,
            ),
        ),
        (
            "Conditions(wind_out_mph=-10) is a wind of ten miles an hour against the ball.",
            "Carry without wind less carry with it.",
        ),
        lambda: f"{carry(100, 28):.0f} ft without wind, {carry(100, 28, wind_out_mph=-10.0):.0f} against it.",
        "some forty feet, if the wind blows like that all the way; a flag tells less than that.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "07.for-air",
        "say",
        Sentence(
            (
                Point("what", "that it carries farthest", _FARTHEST),
                Point("how steep", "the angle in degrees", _THIRTY),
                Point("against what", "the schoolboy's 45", _FORTY_FIVE),
                Point("which ball", "in what air, how hard, or with which spin", _WHICH),
                Point("how sure", "about, or where it comes from", _ABOUT),
            ),
            "Forty-five degrees is for a stone on the moon; a ball hit this hard, in our air and with "
            "the usual spin, goes farthest at about thirty.",
            frames=_FRAMES,
            phrases=(
                "29 degrees",
                "28 degrees",
                "31 degrees",
                "32 degrees",
                "100",
                "2,000",
                "28",
                "29",
                "31",
                "32",
                "rather than 45",
            ),
            figures=(*NEAR_BEST_DEG, SCHOOL_DEG, HIT_MPH, BACKSPIN_RPM),
            too_much=(
                *_TURNED_ROUND,
                TooMuch(
                    r"\b(?:this|that|his|her|the) (?:one|ball|fly|drive|shot) (?:was|is|had been|left|came) "
                    r"(?:[\w'-]+ ){0,3}(?:too |flat|steep|perfect)|"
                    r"\b(?:it|he|she) (?:was|left|went|came|hit|had)\b[^.;:,]{0,20}"
                    r"\btoo (?:flat|steep|high|low)",
                    "that judges this ball, and nobody measured its angle",
                ),
                TooMuch(
                    r"\b(?:would|should|could) (?:have|'ve) (?:[\w'-]+ ){0,3}(?:left|gone|cleared|been)|"
                    r"\bis a home ?run\b|\bhome runs? every",
                    "that promises a home run, and a fence, a wind and a spin are open",
                ),
                TooMuch(
                    r"\b(?:every|any|all) (?:single )?(?:balls?|hits?|fly|flies|hitters?)\b"
                    r"(?! (?:that (?:is |was |are )?)?(?:hit|struck|batted) (?:at|with|this|that|so)\b)|"
                    r"\bexactly\b",
                    "that is said of more than balls of this speed and spin",
                ),
            ),
            good=(
                "In air a baseball that is hit hard carries best at around 30 degrees, and not at 45.",
                "The schoolboy forgot the air: with normal backspin, roughly thirty degrees is the best "
                "angle for a ball hit this hard.",
                "On the moon it's 45; down here drag and spin bring the longest fly ball to about 29 or "
                "30 degrees.",
                "Forty-five degrees is too steep in real air: a ball hit this hard carries farthest at about "
                "thirty.",
                "For a ball hit this hard, with normal backspin and air, about 30 degrees goes farthest; 45 "
                "is too high.",
                "Every ball hit at 100 mph carries farthest at roughly 30 degrees in air, not the textbook "
                "45.",
                "Drag and backspin pull the best launch angle for a hard-hit ball down from 45 to around 30 "
                "degrees.",
                "In a vacuum 45 degrees goes farthest, but in air a ball hit this hard carries best at about "
                "30.",
            ),
            bad=(
                ("In air a hard-hit ball goes farthest at about thirty degrees.", "against what"),
                ("Not 45 degrees: in air a hard-hit ball goes farthest when it leaves flatter.", "how steep"),
                ("A hard-hit ball in air goes farthest at 30 degrees and not at 45.", "how sure"),
                ("Forty-five is for the moon, and it is about thirty for a ball hit hard in air.", "what"),
                ("It goes farthest at about 30 degrees, 45 is wrong.", "which ball"),
                (
                    "That ball was too flat: in air a hard-hit ball goes farthest at about thirty "
                    "degrees, and 45 is wrong.",
                    "too much",
                ),
                (
                    "In air every ball goes farthest at about thirty degrees instead of 45.",
                    "too much",
                ),
                (
                    "At about thirty degrees, where a ball goes farthest in air, it would have left the "
                    "park; 45 is for school.",
                    "too much",
                ),
                (
                    "In air a ball that is hit hard goes farthest at about 45 degrees, and not at 30.",
                    "too much",
                ),
                (
                    "In our air, a hard-hit ball carries farthest at around 45 degrees, well above the "
                    "thirty that people say.",
                    "too much",
                ),
                (
                    "A ball hit hard with backspin goes farther at 45 than at about 30 degrees, in air.",
                    "too much",
                ),
                (
                    "Forty-five degrees sends a ball hit this hard farther through air than about thirty.",
                    "too much",
                ),
                (
                    "About thirty degrees is too flat: a ball hit this hard flies best at 45, air or no air.",
                    "too much",
                ),
                (
                    "He left it too flat: in air a ball hit this hard goes farthest at about 30, and not 45.",
                    "too much",
                ),
                (
                    "In air a ball hit this hard goes farthest at about 30 or 35 degrees, not at 45.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "Begin with the ball: how hard, in what air. Then the angle, and what it is not.",
            "For instance: so much is for a stone on the moon; a ball hit this hard, in this air, goes "
            "farthest at about so much.",
        ),
        "The ball and its air, the best angle and the schoolboy's, and that it is about so; nothing "
        "about the ball that was caught.",
        "the schoolboy can live with that, and so can the physicist.",
        minutes=4,
    ),
)


def _again_park(rng: np.random.Generator) -> tuple[str, Exercise]:
    park, more, step = int(rng.choice([8, 12, 18, 24])), int(rng.integers(2, 5)), 5
    what, low, place, standard, faster = (
        ("A ball carried", 370, "the park", "in standard air", "exit speed"),
        ("A ski jumper flew", 400, "the wind", "in still air", "speed at take-off"),
    )[int(rng.integers(2))]
    seen = low + int(rng.integers(40))
    right = seen - park + step * more
    return (
        f"{what} {seen} feet; {place} gave {park} of them. One more mile an hour of {faster} brings "
        f"{step} feet. How many feet would it have been {standard}, and with {more} miles an hour more?",
        Exercise(
            "07.again-take-it-out",
            "compute",
            Number(right, tolerance=0.5),
            (
                Wrong(seen + step * more, f"{place} is still in it."),
                Wrong(seen + park + step * more, "what was given has to be taken off, not added."),
                Wrong(seen - park, "that is without the speed that was added."),
            ),
            ("First off with what the place gave.", f"Then {more} times {step} feet on top."),
            f"{seen} less {park}, plus {more} times {step}: {right}.",
            "first the place out, then the question.",
            minutes=1,
        ),
    )


def _again_noise(rng: np.random.Generator) -> tuple[str, Exercise]:
    place = int(rng.choice([20, 25, 30]))
    within = bool(rng.integers(2))
    off = int(rng.choice([3, 4] if within else [18, 20, 24]))
    told = (
        "A hitter's fly balls go {} feet farther in a new park, on average; the park gives everybody {}.",
        "A cyclist's ride to work is {} seconds shorter on a new road, on average; the road saves "
        "everybody {}.",
        "A baker's loaves are {} grams heavier from a new oven, on average; the oven adds {} for everybody.",
    )[int(rng.integers(3))]
    right = "b" if within else "a"
    why = {
        "a": f"{off} are left, and luck alone gives as much.",
        "b": f"{off} are left, and luck seldom gives twice its 5.",
        "c": f"{place} of it everybody has, and how much that is, is known. Take it off first.",
        "d": "it can, where others show how much everybody has.",
    }
    return (
        f"{told.format(place + off, place)} Luck moves such an average by about 5. What does it say "
        f"beyond that?",
        Exercise(
            "07.again-beyond-the-place",
            "transfer",
            Choice(
                right,
                {
                    "a": f"something changed: {off} are left, far more than luck's 5",
                    "b": f"nothing that shows: {off} are left, no more than luck gives",
                    "c": f"something changed: {place + off} is far more than luck's 5",
                    "d": "nothing that shows: what all have cannot be taken off one",
                },
            ),
            others(why, right),
            ("Take off first what everybody has.", f"{off} are left. How much does luck give?"),
            f"{place + off} less {place} leaves {off}, and luck moves it by about 5.",
            "first what everybody has, then the noise.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "07",
    "Follow the ball",
    _verdict,
    "Air slows the ball all the way, and backspin holds it up; the farthest ball leaves well below 45 "
    "degrees.",
    EXERCISES,
    (Again("07.again-take-it-out", _again_park), Again("07.again-beyond-the-place", _again_noise)),
)
