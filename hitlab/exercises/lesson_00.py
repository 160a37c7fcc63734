"""Lesson 0, read a spread: mean, spread, how two columns go together, and what luck alone does."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

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
from hitlab.exercises.shared import first_swings, fresh, middle
from hitlab.wording import percent, rate_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes

__all__ = ["LESSON", "SWINGS", "beliefs", "dots", "rates", "rectangles", "spreads", "squares"]

SWINGS = 400
"""Swings of each hitter on the lesson's list: everybody's first so many."""

LEAGUES = 2_000
"""Leagues of equals that the lesson draws."""

HITTERS, MEAN, SPREAD, OF_EQUALS, LUCKS_SHARE = 69, 0.137, 0.024, (0.015, 0.019), 0.51
"""What the lesson shows: how many hitters are on the list, their mean and standard deviation, between which
nine in ten leagues of equals lie, and luck's share of the variance."""

FIVE = np.array([5, 8, 9, 11, 17])
"""Hard swings of the five whose spread is worked out in an exercise."""

TRUE_RATES = np.array([0.1, 0.2, 0.3, 0.4, 0.5])
"""Of the five from whom one comes up unseen."""


@cache
def rates() -> np.ndarray:
    """Return the hard swings per swing of everybody with 400 swings in the demo season, over those."""
    table = first_swings(SWINGS).table()
    return (table.loc[table["swings"] == SWINGS, "hard"] / SWINGS).to_numpy()


def luck_alone(hitters, swings, rate, rng):  # type: ignore[no-untyped-def]
    hard = rng.binomial(swings, rate, (2_000, hitters))
    spreads = (hard / swings).std(axis=1)
    return np.quantile(spreads, [0.05, 0.95])


HOLDS_BELOW, FAILS_ABOVE = 0.05, 0.5
"""Shares of leagues of equals that are spread as wide: fewer, and the claim holds; more, and it does not."""


def _verdict() -> str:
    """Hold the share of leagues of equals that are spread as wide against the two bounds of the lesson."""
    seen = rates()
    rng = np.random.default_rng(1)
    equals = (rng.binomial(SWINGS, seen.mean(), (LEAGUES, seen.size)) / SWINGS).std(axis=1)
    as_wide = float(np.mean(equals >= seen.std()))
    return "holds" if as_wide < HOLDS_BELOW else "does not hold" if as_wide > FAILS_ABOVE else "open"


# --- pictures


def squares(numbers: np.ndarray) -> Axes:
    """Draw each number's distance from the mean, and the square over it.

    Parameters
    ----------
    numbers
        A few numbers, such as hard swings.

    Returns
    -------
    Axes
        Of a fresh figure; the last square has the mean area of the others.
    """
    from matplotlib.patches import Rectangle

    from hitlab.plots import look

    middle, typical = float(numbers.mean()), float(numbers.std())
    ax, own = look.axes_for(None, 8.6, 4.4)
    x = 0.0
    for number in numbers:
        away = float(number) - middle
        ax.add_patch(
            Rectangle((x, middle), abs(away), away, facecolor=look.BANDS[0], edgecolor=look.EDGE, linewidth=1)
        )
        ax.plot([x, x], [middle, number], color=look.ACCENTS[1], linewidth=2.5)
        ax.plot([x], [number], "o", color=look.ACCENTS[1], markersize=8, zorder=3)
        look.put(ax, x, number, f"{number:g}", shift=(0, 8 if away >= 0 else -18), ha="center")
        if away:
            look.put(
                ax, x + abs(away) / 2, middle + away / 2, f"{away**2:g}", size=look.SMALL, ha="center",
                va="center", color=look.QUIET,
            )  # fmt: skip
        x += abs(away) + 1.2
    x += 0.8
    ax.add_patch(Rectangle((x, middle), typical, typical, facecolor=look.ACCENTS[0], alpha=0.25, linewidth=0))
    ax.plot([x, x], [middle, middle + typical], color=look.ACCENTS[0], linewidth=2.5)
    look.put(
        ax, x + typical / 2, middle, f"average area {typical**2:g},\nso its side is {typical:g}",
        shift=(0, -32), ha="center", color=look.ACCENTS[0], size=look.SMALL,
    )  # fmt: skip
    ax.axhline(middle, color=look.INK, linewidth=1.2, zorder=0)
    ax.set(xlim=(-0.8, x + typical + 1.6), ylim=(numbers.min() - 0.9, numbers.max() + 0.9), xticks=[])
    ax.set_aspect("equal")
    ax.set_ylabel("hard swings of 20", fontsize=look.SMALL, color=look.QUIET)
    ax.spines["bottom"].set_visible(False)
    told = ", ".join(f"{number:g}" for number in numbers)
    return look.finish(
        ax,
        own,
        "Five hitters, and how far each is from the level line",
        f"The line shares all out evenly: {middle:g} each. On each stick its square, with the area in "
        f"figures.",
        alt=f"The numbers {told} above and below the level line {middle:g}; squares over the distances, "
        f"whose average area is {typical**2:g}, side {typical:g}",
    )


def rectangles(first: np.ndarray, second: np.ndarray) -> Axes:
    """Draw two columns against each other, with the rectangle of each dot and the two means.

    Parameters
    ----------
    first, second
        A few numbers each, in the same order.

    Returns
    -------
    Axes
        Of a fresh figure.
    """
    from matplotlib.patches import Rectangle

    from hitlab.plots import look

    ax, own = look.axes_for(None, 6.4, 5.4)
    means = float(first.mean()), float(second.mean())
    for x, y in zip(first, second, strict=True):
        away = float(x) - means[0], float(y) - means[1]
        color = look.ACCENTS[1] if away[0] * away[1] >= 0 else look.ACCENTS[0]
        ax.add_patch(Rectangle(means, *away, facecolor=color, alpha=0.18, edgecolor=color, linewidth=1))
        ax.plot([x], [y], "o", color=color, markersize=8, zorder=3)
        outward = (9 if away[0] >= 0 else -9, 5 if away[1] >= 0 else -13)
        look.put(
            ax, float(x), float(y), f"{away[0] * away[1] + 0.0:g}", shift=outward, color=color,
            ha="left" if away[0] >= 0 else "right",
        )  # fmt: skip
    ax.axvline(means[0], color=look.INK, linewidth=1)
    ax.axhline(means[1], color=look.INK, linewidth=1)
    ax.set(xlim=(first.min() - 1, first.max() + 1), ylim=(second.min() - 1, second.max() + 1))
    ax.set_aspect("equal")
    ax.set_xlabel("hard swings of the first 20", fontsize=look.SMALL, color=look.QUIET)
    ax.set_ylabel("of the next 20", fontsize=look.SMALL, color=look.QUIET)
    products = (first - means[0]) * (second - means[1])
    return look.finish(
        ax,
        own,
        "Who was high was mostly high again",
        "The lines are the two means. At each dot: its rectangle's area, plus or minus.",
        alt="Five dots, first 20 swings against next 20, with rectangles to the cross of the means; areas "
        + ", ".join(f"{product + 0.0:g}" for product in products),
    )


def dots(league: np.ndarray, title: str) -> Axes:
    """Draw the hitters of a league as dots, one a hitter, with the mean and a band of one standard deviation.

    Parameters
    ----------
    league
        Rates from 0 to 1.
    title
        What is seen.

    Returns
    -------
    Axes
        Of a fresh figure.
    """
    from hitlab.plots import look

    ax, own = look.axes_for(None, 8.0, 3.6)
    column = np.floor(league / 0.005 + 1e-9)
    height = pd.Series(column).groupby(column).cumcount()
    middle, typical = float(league.mean()), float(league.std())
    ax.axvspan(middle - typical, middle + typical, color=look.BANDS[0], zorder=0)
    ax.axvline(middle, color=look.INK, linewidth=1.2, zorder=1)
    ax.scatter((column + 0.5) * 0.005, height, s=46, color=look.ACCENTS[1], zorder=2)
    ax.set(yticks=[], xlim=(0.0, 0.3), ylim=(-0.8, max(float(height.max()) + 1, 8)))
    look.rate_axis(ax.xaxis, "hard swings per swing")
    told = f"mean {rate_text(middle)}, standard deviation {rate_text(typical)}"
    return look.finish(
        ax,
        own,
        title,
        f"One dot a hitter, {league.size} in all: {told}. The band reaches one of it to either side.",
        alt=f"{title}: {league.size} hitters, {told}",
    )


def spreads(equals: np.ndarray, seen: float) -> Axes:
    """Draw the spreads of many leagues of equals, and the one that was seen.

    Parameters
    ----------
    equals
        One standard deviation a league.
    seen
        The league's own.

    Returns
    -------
    Axes
        Of a fresh figure.
    """
    from hitlab.plots import look

    ax, own = look.axes_for(None, 8.0, 3.6)
    low, high = (float(end) for end in middle(equals))
    tall = float(np.max(ax.hist(equals, bins=40, color=look.BANDS[1])[0]))
    ax.plot([low, high], [-0.05 * tall] * 2, color=look.EDGE, linewidth=4, solid_capstyle="butt")
    ax.axvline(seen, color=look.ACCENTS[0], linewidth=2)
    look.put(
        ax, seen, 0.75 * tall, f"seen: {rate_text(seen)}", shift=(-6, 0), ha="right", color=look.ACCENTS[0]
    )
    ax.set(yticks=[], ylim=(-0.09 * tall, 1.08 * tall))
    look.rate_axis(ax.xaxis, "standard deviation of the league's rates")
    told = f"nine in ten from {rate_text(low)} to {rate_text(high)}"
    return look.finish(
        ax,
        own,
        "How far luck alone puts equals apart",
        f"{equals.size:,} leagues of equals; the higher, the more of them. The bar below: {told}.",
        alt=f"Spreads of {equals.size:,} leagues of equals, {told}; the league's own is {rate_text(seen)}",
    )


def beliefs(before: np.ndarray, after: np.ndarray) -> Axes:
    """Draw what one believed of five before and after a swing, as pairs of bars.

    Parameters
    ----------
    before, after
        Shares that add up to 1, one for each of ``TRUE_RATES``.

    Returns
    -------
    Axes
        Of a fresh figure.
    """
    from hitlab.plots import look

    ax, own = look.axes_for(None, 8.0, 3.6)
    places = np.arange(len(before))
    for shares, shift, color, words in (
        (before, -0.2, look.FAINT, "before"),
        (after, 0.2, look.ACCENTS[0], "after"),
    ):
        ax.bar(places + shift, shares, width=0.36, color=color)
        for place, share in zip(places, shares, strict=True):
            look.put(
                ax, float(place + shift), float(share), percent(share), shift=(0, 4), ha="center",
                color=look.QUIET if words == "before" else color, size=look.SMALL,
            )  # fmt: skip
        look.put(
            ax, float(places[-1] + shift), 0, words, shift=(0, 5), ha="center", size=look.SMALL,
            color=look.BACKGROUND if words == "after" else look.INK,
        )  # fmt: skip
    ax.set(yticks=[], ylim=(0, 1.15 * float(max(after.max(), before.max()))))
    ax.set_xticks(places, [rate_text(rate) for rate in TRUE_RATES])
    ax.set_xlabel(
        "hard swings per swing of the one who may have come up", fontsize=look.SMALL, color=look.QUIET
    )
    told = "; ".join(
        f"{rate_text(rate)} {percent(old)}, then {percent(new)}"
        for rate, old, new in zip(TRUE_RATES, before, after, strict=True)
    )
    return look.finish(
        ax,
        own,
        "One hard swing moves what one believes",
        "How likely each of the five is: before the swing, and after it was hard.",
        alt=f"Pairs of bars, before and after one hard swing: {told}",
    )


# --- what people write


def _some_luck(rng: np.random.Generator) -> tuple[int, int, float, np.random.Generator]:
    """So few hitters that their number and one less are told apart."""
    hitters, swings = int(rng.integers(8, 13)), int(rng.integers(200, 300))
    return hitters, swings, float(rng.uniform(0.1, 0.3)), fresh(rng)


def _leagues(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return rng.binomial(swings, rate, (2_000, hitters))


def _luck_of_many(hitters: int, swings: int, rate: float, _: np.random.Generator) -> np.ndarray:
    many = np.random.default_rng(0).binomial(swings, rate, (60_000, hitters))
    return middle((many / swings).std(axis=1))


def _in_hard_swings(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return middle(_leagues(hitters, swings, rate, rng).std(axis=1))


def _over_leagues(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return middle((_leagues(hitters, swings, rate, rng) / swings).std(axis=0))


def _of_means(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return middle((_leagues(hitters, swings, rate, rng) / swings).mean(axis=1))


def _four_fifths(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return middle((_leagues(hitters, swings, rate, rng) / swings).std(axis=1), 0.1)


def _by_one_less(hitters: int, swings: int, rate: float, rng: np.random.Generator) -> np.ndarray:
    return middle((_leagues(hitters, swings, rate, rng) / swings).std(axis=1, ddof=1))


def together(first, second):  # type: ignore[no-untyped-def]
    a = first - first.mean()
    b = second - second.mean()
    products = a * b
    return products.mean() / (first.std() * second.std())


def _two_columns(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    first = rng.integers(2, 15, 8)
    return first, np.round(first * rng.choice([-0.5, 0.4, 0.9]) + rng.normal(12, 3, 8))


def _not_divided(first: np.ndarray, second: np.ndarray) -> float:
    return float(((first - first.mean()) * (second - second.mean())).mean())


def _numbers_not_distances(first: np.ndarray, second: np.ndarray) -> float:
    return float((first * second).mean() / (first.std() * second.std()))


def _by_variances(first: np.ndarray, second: np.ndarray) -> float:
    return _not_divided(first, second) / float(first.var() * second.var())


def _one_spread_twice(first: np.ndarray, second: np.ndarray) -> float:
    return _not_divided(first, second) / float(first.std() ** 2)


# --- numbers asked for


def _within_one() -> float:
    seen = rates()
    return float(np.sum(np.abs(seen - seen.mean()) <= seen.std()))


def _second_hard(power: int) -> float:
    return float(TRUE_RATES[-1] ** power / (TRUE_RATES**power).sum())


_LUCK = (
    r"(?:by |what )?(?:they |it )?(?:would )?(?:be |do |lie )?(?:among |with |for |if )?(?:those of |"
    r"that of |it (?:is )?(?:of|for|with) )?(?:pure |mere |plain )?"
    r"(?:luck|chance|equals?|dice|coins?)\b"
)
_MANY = (
    r"\b(?:all|most|many|half|hundreds|dozens|plenty|every|some|several|\d[\d.]*(?: ?%| per ?cent))"
    r"(?: one)?(?: of)?"
)
_TURNED = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        r"\b(?:no|not (?:any |much |really )?) ?(?:further|farther|wider|more|larger|greater)\b"
        rf"[^,;:.]{{0,40}}\bthan {_LUCK}",
        r"\b(?:closer|nearer|tighter|narrower|smaller|less(?! than (?:one|1|a) ))\b"
        rf"[^,;:.]{{0,40}}\bthan {_LUCK}",
        rf"\b(?:as|equally) (?:\w+ ){{1,3}}as {_LUCK}|\b(?:just|exactly|about|only) what {_LUCK}",
        r"\b(?:so|too) (?:alike|similar|even|close together|near each other)\b",
        r"(?<!than )\b(?:luck|chance)(?: alone)? (?:would|could|can|may|might) (?:well )?do (?:it|this|"
        r"that|so|the same)\b",
        rf"\b(?:is|are|likely|probably) what (?:a |the )?{_LUCK}",
        r"\b(?:luck|chance) and nothing (?:else|more|but)\b|\bnothing (?:else )?but (?:luck|chance)\b",
        rf"(?:\bnot|n't|\bno) (?:[\w'-]+ ){{0,6}}?(?:more|further|farther|wider|"
        rf"larger) (?:\w+ ){{0,2}}than {_LUCK}",
        r"\bjust as (?:spread|wide|far)\b|\b(?:luck|chance) is (?:\w+ )?all\b|\ball there is\b",
        r"\b(?:within|inside) [^,;:.]{0,25}\b(?:luck|chance|equals)\b",
        r"\bleagues?\b[^,;:.]{0,30}\b(?:all|every one|each one|most|many|half)\b[^,;:.]{0,20}"
        r"\b(?:as (?:wide|far|spread|much)|wider|further|farther)\b",
        r"(?<!than )(?<!what )\b(?:luck|chance) (?:alone )?(?:(?:easily|well|fully|often|usually|probably|"
        r"certainly|could|can|"
        r"may|might|would|surely|entirely) )*(?:explains?|accounts? for|suffices|is enough)\b"
        r"(?! (?:only|about|just|half))",
        r"\b(?:explained|accounted for) (?:\w+ ){0,2}by (?:pure |mere |plain )?(?:luck|chance)\b",
        rf"{_MANY}(?: the| these| our)* (?:2,?000|two thousand|leagues?)\b[^,;:.]{{0,60}}"
        r"\b(?:(?:as|so) (?:wide|far|spread|much)|wider|further|farther|matched|"
        r"did (?:as|so|the same)|reached)\b",
        r"(?<!than )(?<!not )(?<!hardly )\b(?:luck|chance)(?: alone)? (?:(?!not\b|hardly|never|seldom|"
        r"rarely)\w+ )?"
        r"(?:often|easily|usually|regularly|commonly|normally|frequently|readily)\b",
        r"(?<!not )(?<!hardly )(?<!less )\b(?:likely|probable|probably)\b(?:(?!\bno\b|\bnot\b|n't|more|"
        r"hardly|beyond|"
        r"half)[^,;:.]){0,15}\b(?:luck|chance)\b(?! (?:\w+ )?(?:hardly|never|not|half|part|some|about))",
        r"\b(?:just|much|exactly|about|quite|the same|spread) (?:like|as)\b[^,;:.]{0,40}\b(?:luck|equals|"
        r"chance)\b",
        r"\bnever (?:\w+ ){0,3}(?:further|farther|wider)\b",
        r"\b(?:not one|none|no|0|zero|never)\b[^,;:.]{0,50}\b(?:as (?:close|narrow|tight|near|little)|"
        r"closer|narrower|"
        r"tighter|less (?:far|spread|wide))\b",
        r"(?<!if )(?<!where )(?<!though )(?<!in which )"
        r"\b(?:everybody|everyone|all(?: of them| hitters)?|all 69) (?:is|"
        r"are|was|were) "
        r"(?:\w+ ){0,2}(?:equals?|equally good|alike|the same)\b",
        r"(?<!if )(?<!if the )(?<!if these )(?<!if our )(?<!if all )\b(?:hitters|they) (?:are|were) "
        r"(?:(?!not\b)\w+ ){0,2}(?:equals|equal|equally good|alike|the same)\b",
    )
)

_OURS = frames.fill(
    r"hard hit hits balls contact rates? the these our their ours hitters 's league in of a over "
    rf"{SWINGS} swings each "
    "apiece after with they it and is are was were be lies? lay have has had"
)
_BY_LUCK = (
    r"(?:(?:plain |pure |mere )?(?:luck|chance)(?: alone)?|equals?|equal(?:ly good)? hitters|equal ones|dice)"
)
_WOULD = frames.fill(
    r"would does do did makes? made puts? gives? gave can could explains? have them it be lie put make if "
    r"they all were "
    r"equal equals everybody everyone was equally good spread"
)
_SO_MANY = rf"(?:the )?{LEAGUES}(?: simulated)? (?:leagues|tries|runs)" + frames.fill(
    "of equals? equally good hitters luck that alone made run by chance where everybody all was were equal"
)
_FURTHER = r"(?:further|farther|wider|more)(?: apart| spread| out| widely)*"
_FRAMES = (
    frames.HARD,
    rf"(?:over |given |for )?(?:over )?{SWINGS} swings(?: (?:each|apiece|a hitter|per hitter))?",
    rf"(?:these|the|our|all|all of|all of these|as these) {HITTERS}(?: hitters)?|these{_OURS}",
    rf"(?:lie|lies|spread|differ|differs|vary|varies|scatter){_OURS}(?: by)? {_FURTHER}",
    rf"{_FURTHER}{_OURS} than{frames.fill('those that in for with by from')}{_OURS} {_BY_LUCK}{_WOULD}",
    rf"{_FURTHER}{_OURS} than{_OURS}{_WOULD}(?= ,)",
    rf"{_FURTHER}{_OURS} than{_WOULD}{_OURS}{_WOULD} in any of {_SO_MANY}|{_FURTHER}{_OURS} than "
    rf"{_BY_LUCK}{_WOULD} in any of {_SO_MANY}",
    rf"(?:not one|not once|none|no league|no luck only league|0|zero|never|fewer than one|less than once)"
    rf"{frames.fill('of out in the')} {_SO_MANY}",
    rf"in {_SO_MANY}(?= ,)|in {_SO_MANY}{_OURS}(?: it)? never(?: happened)?{_OURS}|it never happened(?: "
    rf"in {_SO_MANY})?",
    rf"(?:{_SO_MANY}(?: ,)?{_OURS}(?: ,)?(?: and)? none|in {_SO_MANY}{_OURS} never)(?: of "
    rf"them)?{_OURS}(?: spread| came| got there| matched (?:it|this)| "
    rf"its)*{_OURS}(?= (?:this|as|so|near|,))",
    r"(?:spread |was |came |be )*(?:as|so|this|that) (?:far apart|far|widely|wide|spread out|much|near|close)"
    rf"(?: as{_OURS}(?:{frames.fill('they these ours do this 69')}))?",
    r"(?:luck|chance)(?: alone)? (?:would |could )?(?:hardly|(?:almost|practically|nearly) never|(?:very "
    r")?(?:rarely|seldom))"
    r"(?: ever)? (?:puts?|spreads?|explains?|makes?|gives?|throws?)",
    rf"too far apart (?:for|to be) (?:just )?{_BY_LUCK}|(?:unlikely to be|surely not|is not|is hardly)(?: "
    r"just)? "
    r"(?:luck|chance) alone",
    rf"unlikely(?: that)?(?: to be)? {_BY_LUCK}{_WOULD}|(?:in|by|of) (?:luck|chance)(?: alone)?|luck alone",
    r"(?:would|could) (?:hardly|(?:almost|practically|nearly) never|(?:very )?(?:rarely|seldom))(?: "
    r"ever)? (?:be|put|lie|spread|look|turn up)",
    rf"(?:if|where|when){_OURS}{frames.fill('everybody everyone all them')} (?:were|was|had)(?: all)?"
    r" (?:equals?|equally good|luck|the same skill)",
    r"of equals|equal(?:ly good)? hitters|the same skill|equally good|hitters do differ|lie too far apart|"
    r"surely not luck alone",
    rf"luck(?: alone)?{_WOULD}{_OURS}(?: (?:from|no further apart than))*(?: \.015 (?:to|and))? \.019(?: "
    r"apart)?|where luck alone rarely makes \.019",
    r"(?:at|of|are|is|stands at|lie) \.024(?: apart)?|standard deviation",
    r"(?:only )?about half (?:of )?the (?:spread|story)|(?:is )?luck is about half|luck(?= ,)|matched "
    r"(?:it|this)|got there|ours|story",
    rf"(?:we )?(?:give|gave|let|take|took)(?: all)?(?: {HITTERS})?(?: (?:equals?|identical|equal))*(?: "
    r"hitters| people)?"
    rf"(?: the same (?:talent|skill|ability)(?: and)?| swing)?(?: {SWINGS} (?:swings|times)(?: (?:each|"
    r"apiece))?)?",
    rf"(?:chance|luck)(?: alone)? never once|(?<=, ){LEAGUES} times over|in {LEAGUES} (?:such "
    r")?(?:attempts|tries|"
    r"goes|make believe (?:seasons|leagues)|invented (?:seasons|leagues))|(?<=over , and )their",
    r"never(?: once)? (?:came out|strewed|scattered|spread|ended up|were|lay)(?: (?:their|the))?"
    r"(?: (?:rates|counts|hard (?:hit )?(?:balls|hits)|hard hits|of))*",
    r"as (?:spread|widely|scattered|uneven|spread out|wide|far apart) as (?:these|this|ours|here|(?:we|"
    r"you) see(?: here)?|"
    r"(?:they|these) (?:do|are|lie)(?: (?:on|in) (?:my|our|the) (?:list|league))?)",
    rf"among {HITTERS}(?: hitters)?(?= with {SWINGS})|vary more than chance would(?: make them vary)?|"
    rf"(?:was|were|is) so (?:uneven|scattered|spread)",
    rf"it happened in (?:none|not one) of {LEAGUES}(?: \w+)? leagues|(?:would )?(?:practically|almost|"
    r"virtually) never "
    r"end up(?: with)?",
    rf"(?:not (?:one|a single one)|none)(?: simulated)? league in {LEAGUES}(?: got| was| came out)?(?: "
    r"this| so| as)? wide|"
    r"scatter(?:s)? hard hit rates far less than(?: what)?",
    r"(?:almost|nearly) certainly (?:bigger|larger|wider) than (?:luck|chance) alone would(?: (?:produce|"
    r"make))?",
    r"(?:luck|chance|equals|(?:equal|identical|equally good) "
    rf"hitters)(?:{frames.fill('alone , a hitter each apiece with over in')}"
    rf" {SWINGS} swings(?: (?:each|apiece|a hitter))?)?(?: alone)?(?: ,)? {frames.SELDOM} (?:gives?|makes?|"
    r"puts?|spreads?|"
    r"produces?|throws?|scatters?|differ|lie|end up|come out)",
    r"(?:in hard hit (?:balls|rates) |in hard hits )?(?:as much|as widely|so much) as these (?:do|are|lie)|"
    r"this spread out",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "00.five-others",
        "compute",
        Number(lambda: float(FIVE.std()), tolerance=0.06),
        (
            Wrong(
                lambda: float(FIVE.var()), "that is the mean of the squares. Its root is still to be taken."
            ),
            Wrong(
                lambda: float(np.abs(FIVE - FIVE.mean()).mean()),
                "that is the mean of the distances themselves. Square each, take the mean, then the root.",
            ),
            Wrong(
                lambda: float(FIVE.std(ddof=1)),
                "you divided the sum of the squares by one less than the five. Here it is their plain mean.",
            ),
            Wrong(
                lambda: float(np.ptp(FIVE)),
                "that is from the lowest to the highest; the three between them have no say in it.",
            ),
            Wrong(lambda: float(FIVE.mean()), "that is the mean. How far do the five lie from it?"),
            Wrong(
                lambda: float(((FIVE - FIVE.mean()) ** 2).sum()),
                "that is the sum of the squares. Share it out among five, then take the root.",
            ),
        ),
        (
            "First the mean. Then five distances from it, five squares, their mean, its root.",
            "The sum of the squares is 80; what is each one's share of it, and what is the root of that?",
        ),
        "The mean is 10; the distances are -5, -2, -1, 1 and 7, their squares 25, 4, 1, 1 and 49. The "
        "mean of the squares is 16, and its root is 4.",
        "one of the five has most of the squares: who is far off counts most.",
        minutes=3,
    ),
    Exercise(
        "00.go-together",
        "complete",
        Code(together, _two_columns, tolerance=1e-6),
        (
            Wrong(
                _not_divided,
                "that is the mean of the products, and it grows with the unit. Both standard deviations go "
                "below the line.",
            ),
            Wrong(
                _numbers_not_distances,
                "you multiplied the numbers themselves. The rectangles are made of distances from the means.",
            ),
            Wrong(_by_variances, "you divided by the variances; take the standard deviations, their roots."),
            Wrong(
                _one_spread_twice,
                "you divided by the first column's standard deviation twice. Each column has its own.",
            ),
        ),
        (
            "first.mean() and first.std() are a column's mean and standard deviation.",
            "The gaps: first.mean(), the second column, and first.std().",
        ),
        "Distances from each column's own mean, their products, the mean of these, over both standard "
        "deviations.",
        "five rectangles or five thousand: the same three lines.",
        minutes=4,
    ),
    Exercise(
        "00.within-one",
        "predict",
        Bounds(_within_one, widest=12),
        (
            Wrong(
                (60, 69),
                "that is nearly everybody. The standard deviation is a typical distance, no longest one; "
                "some lie further off.",
                when=lambda ends: ends[0] >= 50,
            ),
            Wrong(
                (30, 40),
                "half of them would lie within the middle one of the distances. The squares weigh the far "
                "ones more, so the standard deviation is larger than that.",
                when=lambda ends: ends[1] < 48,
            ),
        ),
        (
            "Of our first five, 4, 5 and 6 lie within 2 of the mean, and 2 and 8 do not.",
            "In most lists it is about two in three, or a little more.",
        ),
        lambda: (
            f"{_within_one():.0f} of {rates().size}, {percent(_within_one() / rates().size)}. In most lists "
            "about two in three lie within one standard deviation of the mean."
        ),
        "about two in three: that is so of most lists without a few that lie far off, whatever they are of.",
        minutes=2,
    ),
    Exercise(
        "00.luck-alone",
        "write",
        Code(luck_alone, _some_luck, tolerance=1.5e-3, surely=_luck_of_many),
        (
            Wrong(
                _in_hard_swings,
                "these are spreads of counts. Divide the hard swings by the swings before you measure.",
            ),
            Wrong(
                _over_leagues,
                "that is the spread down the column, of one hitter over all leagues. It is wanted along the "
                "row: axis=1.",
            ),
            Wrong(
                _of_means, "these are the leagues' means. How far apart do the hitters of each league lie?"
            ),
            Wrong(_four_fifths, "that is the middle 80 %: a tenth is cut off at either end."),
            Wrong(
                _by_one_less,
                "you divided the sum of the squares by one less than the hitters, as pandas does. Here it is "
                "their plain mean.",
            ),
        ),
        (
            "hard / swings makes rates of the whole table; .std(axis=1) gives one number a row.",
            "spreads = (hard / swings).std(axis=1); then np.quantile(spreads, [0.05, 0.95]).",
        ),
        "Rates from the counts, one standard deviation a league, and a twentieth cut off at either end.",
        "that is how far luck alone throws equals, and no formula was needed.",
        minutes=4,
    ),
    Exercise(
        "00.twice",
        "compute",
        Number(lambda: _second_hard(2), tolerance=0.006, share=True),
        (
            Wrong(
                lambda: _second_hard(1), "that is what you believed after one hard swing. There is a second."
            ),
            Wrong(
                lambda: _second_hard(1) ** 2,
                "you multiplied two beliefs. Count again how many of a hundred pairs of swings are both "
                "hard.",
            ),
            Wrong(
                0.25, "that is how often the best one hits two in a row hard. How often do all five together?"
            ),
            Wrong(
                2 * 5 / 15,
                "you doubled the belief. A third hard swing would then make it more than certain.",
            ),
        ),
        (
            "Of 100 pairs of swings the first hitter has 1 with both hard, the second 4. And the others?",
            "1, 4, 9, 16 and 25. The last one's share of all of them.",
        ),
        lambda: (
            "Of 100 pairs each, 1, 4, 9, 16 and 25 are hard twice, 55 in all; 25 of 55 is "
            f"{rate_text(_second_hard(2))}."
        ),
        "two swings, and still less than even that it is the best one. Belief moves in small steps.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "00.of-two",
        "denominator",
        Choice(
            "c",
            {
                "a": "2, the hitters, as a mean is over people",
                "b": "50, the swings that each has on average",
                "c": "100, the swings of both taken together",
                "d": "90, the swings of the one with more",
            },
        ),
        (
            Wrong("a", "that gives hard swings a hitter. The question is about a swing of theirs."),
            Wrong("b", "then each swing would be counted as half a one. How many did they swing in all?"),
            Wrong("d", "the other ten swings were swings, too, and three of the twelve came from them."),
        ),
        (
            "Put all their swings into one heap and draw one. How large is the heap?",
            "12 of the heap are hard; both hitters' swings are in it.",
        ),
        "All their swings are one heap of 100, and 12 of these are hard: .120, not the .200 between two "
        "rates.",
        "the mean of rates weighs hitters alike; the rate of all swings weighs swings alike.",
        minutes=2,
        core=False,
    ),
    Exercise(
        "00.two-clubs",
        "fault",
        Choice(
            "d",
            {
                "a": "the means should have been taken over all swings, not over hitters",
                "b": "a difference in means tells nothing unless the spreads are equal",
                "c": "the first club should have been held against all others, not one",
                "d": "chance alone often puts two means as far apart as that",
            },
        ),
        (
            Wrong("a", "each of these hitters has as many swings, so that both come to the same."),
            Wrong("b", "means may be compared whatever the spreads are. What does chance do to two means?"),
            Wrong(
                "c", "against all others the question is the same: how far apart does chance put two means?"
            ),
        ),
        (
            "The cell deals the same hitters out to two clubs by chance. How far apart do those lie?",
            "Is the difference of the two clubs inside the range that chance gives, or outside?",
        ),
        "Nine deals in ten lie within the range that was printed, and the two clubs' difference is "
        "inside it: chance alone does that often, so no coach is needed to explain it.",
        "a difference is news where chance seldom makes one as large.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "00.two-buses",
        "transfer",
        Choice(
            "b",
            {
                "a": "either: both leave you six minutes on average",
                "b": "the green one: it seldom lies six minutes off its mean",
                "c": "the blue one: a wide spread has many quick trips",
                "d": "neither: the mean tells nothing about one trip",
            },
        ),
        (
            Wrong("a", "on average, yes. But it is one trip, and one of the two is often far off its mean."),
            Wrong(
                "c",
                "it has, and as many slow ones. Quicker than in time is no use, slower is a missed train.",
            ),
            Wrong("d", "the mean with the spread tells how often a trip lies six minutes above it."),
        ),
        (
            "How many standard deviations are the six minutes, for each of the two?",
            "Three of them for one bus, and less than one for the other.",
        ),
        "Six minutes are three standard deviations of the green bus and little more than half a one of the "
        "blue: it misses the train again and again.",
        "where one time counts, ask for the spread before the mean.",
        minutes=3,
        core=False,
    ),
    Exercise(
        "00.for-air",
        "say",
        Sentence(
            (
                Point("what", "what was counted", patterns.HARD_HIT),
                Point("out of what", "the swings of each, with their number", patterns.swings_of(SWINGS)),
                Point(
                    "against what",
                    "equals, or luck alone",
                    (
                        r"\bequal",
                        r"\bluck",
                        r"\bchance (?:alone|would|puts?|gives?|makes?|does|throws?|can)\b",
                        r"\b(?:by|of|to|from) (?:pure |mere |sheer )?chance\b",
                        r"\bchance\b.{0,12}\bapart\b",
                        r"\b(?:same|identical) (?:skill|talent|rate|hitter|ability)",
                        r"\b(?:all|just|equally) (?:as )?(?:good|alike|the same)\b",
                        r"\bidentical\b",
                        r"\b(?:the|a) coin|\bdice\b|\bcoin",
                        r"\brandom",
                        r"\bnoise\b",
                    ),
                ),
                Point(
                    "how sure",
                    "how often equals lie as far apart, or a chance",
                    (
                        patterns.number(LEAGUES),
                        r"\b(?:in|of) (?:a |one |every )?(?:thousand|hundred|1,?000|100)\b",
                        r"\b\d[\d.]*(?: ?%| per ?cent\b)",
                        *patterns.LIKELY,
                        r"\b(?:hardly|(?:almost|nearly|practically|virtually) never|rarely|seldom|barely "
                        r"ever|scarcely)\b",
                        r"\bchances? (?:is|are|of|that)\b",
                    ),
                ),
            ),
            "Over 400 swings each, these hitters' rates of hard hits lie further apart than those of "
            "equals: not one of 2,000 leagues that luck alone made was spread as wide.",
            frames=_FRAMES,
            phrases=(
                "0 of 2,000 leagues",
                "69 hitters",
                ".015",
                "2,000 times over",
                "2,000",
                "chance almost never spreads these hard hits this much",
                "hard hits are almost surely not luck alone",
                "our hitters are very unlikely to be equals",
                "their hard hits lie too far apart for chance alone",
                "wider apart than in any of 2,000 leagues run by chance",
                "luck gives it nine times in ten",
                "chance never spreads hits this much",
                "hits lie too far apart for chance",
                "more than they would, almost certainly",
                "chance never spreads hits so",
                "too far apart for chance",
                "400 swings each for 69 hitters with 400 swings each",
                "of these 69",
                "luck made them in any of 2,000 leagues",
                "lie further apart than chance would have it",
                "wider apart than luck would put equally good ones",
                "of .024",
                "too far apart for luck",
                "from .015",
                "rarely .019",
            ),
            figures=(0, 1, SWINGS, LEAGUES, HITTERS, MEAN, SPREAD, *OF_EQUALS, LUCKS_SHARE, 0.9),
            too_much=(
                TooMuch(
                    r"\b(?:all|only|pure(?:ly)?|just|nothing but|entirely) (?:skill|talent|ability)\b",
                    "that leaves luck out, and most of the spread may be luck's",
                ),
                TooMuch(
                    r"\b(?:no|nothing to do with|not?|without) luck\b(?! alone|-)",
                    "that leaves luck out, and it has its share",
                ),
                TooMuch(
                    r"(?:\b(?:is|was|are|be|it's)|^(?!.*\bif\b).*\bwere) (?:all |just |only |purely |"
                    r"merely |simply |pure |mere )+"
                    r"(?:by )?(?:luck|chance|noise|random)\b",
                    patterns.TURNED,
                ),
                *_TURNED,
                TooMuch(
                    r"\bimpossible\b|\b(?:would|could|can|will) never\b",
                    "that rules out what was only never seen in so many draws",
                ),
                patterns.CAUSE,
                TooMuch(
                    r"\b(?:the best (?:hitter|one)|leads? the league)\b",
                    "that is about one hitter, and all of them were held against luck",
                ),
            ),
            good=(
                "Give all of them the same skill and 400 swings, and in 2,000 tries their hard hits "
                "never lie as far apart as they do.",
                "After four hundred swings each the hard-hit rates differ by more than chance gives; of two "
                "thousand leagues of equals none came near.",
                "It is unlikely to be luck alone: over 400 swings apiece, our hitters differ more in "
                "hard contact than equal ones would.",
                "After 400 swings apiece, these hitters are more spread out in how often they hit it hard "
                "than dice would make them, almost certainly.",
                "Fewer than one in 2,000 leagues of equals would lie as far apart in hard hits over 400 "
                "swings each as these 69 do.",
                "Over 400 swings each, these hitters' hard-hit rates vary more than luck alone can "
                "explain; it "
                "never happened in 2,000 tries.",
                "If hard hits were all luck, a spread like this over 400 swings each would turn up less than "
                "once in 2,000 leagues.",
                "All of 2,000 leagues of equals lay closer together than these hitters' hard rates after "
                "400 swings each.",
                "After 400 swings each luck alone puts hard hits no further apart than .019, nine times in "
                "ten, and our league stands at .024.",
                "Luck alone hardly explains how far these hitters' hard hits over 400 swings lie apart.",
            ),
            bad=(
                (
                    "Over 400 swings each, the spread in hard hits is pure luck in 90 percent of 2,000 "
                    "leagues.",
                    "too much",
                ),
                ("These hitters differ in hard swings, and luck alone would hardly do that.", "out of what"),
                ("Over 400 swings each, hard hits are spread wider than luck would have it.", "how sure"),
                (
                    "Over 400 swings each, the hard rates have a standard deviation of .024, hardly a "
                    "small one.",
                    "against what",
                ),
                (
                    "In 2,000 leagues of equals with 400 swings each, nobody lay so far apart.",
                    "what",
                ),
                (
                    "Over 400 swings each the hard hits are all skill: none of 2,000 leagues of equals "
                    "did that.",
                    "too much",
                ),
                (
                    "400 swings each prove it: hard hits are not luck, in none of 2,000 leagues of equals.",
                    "too much",
                ),
                (
                    "Over 400 swings each, our hitters' hard rates lie no further apart than those of "
                    "equals; nearly all of 2,000 leagues were spread as wide.",
                    "too much",
                ),
                (
                    "With 400 swings each, luck alone easily explains the spread in hard hits: 95 percent "
                    "of 2,000 leagues were wider.",
                    "too much",
                ),
                (
                    "Over 400 swings each, the hard rates are closer together than luck would make them, "
                    "which hardly ever happens.",
                    "too much",
                ),
                (
                    "Over 400 swings each these hitters' hard hits are about as spread out as those of "
                    "equals, most likely.",
                    "too much",
                ),
                (
                    "Most of 2,000 leagues of equals with 400 swings each were spread wider in hard hits.",
                    "too much",
                ),
                (
                    "Over 400 swings each the hitters are most likely equally good, and luck explains their "
                    "hard hits.",
                    "too much",
                ),
                (
                    "Over 400 swings each, hard hits scatter within what luck alone would give nine times in "
                    "ten.",
                    "too much",
                ),
                (
                    "Of 2,000 leagues of equals nearly every one was as spread out in hard hits over 400 "
                    "swings.",
                    "too much",
                ),
                (
                    "With 400 swings each, chance alone would often spread hard hits this far, in half of "
                    "2,000 leagues.",
                    "too much",
                ),
                (
                    "Over 400 swings each, hard hits vary less than they would among equals, which is very "
                    "unlikely.",
                    "too much",
                ),
                (
                    "Not one of 2,000 leagues of equals was as close together in hard hits over 400 swings "
                    "as "
                    "ours.",
                    "too much",
                ),
                (
                    "It is very likely that luck alone put these hitters' hard hits over 400 swings so far "
                    "apart.",
                    "too much",
                ),
                (
                    "Over 400 swings each, hard hits lie further apart than in 1,900 of 2,000 leagues of "
                    "equals.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "What was counted, out of how many swings each, and what it was held against.",
            "For instance: over so many swings each, their hard hits lie further apart than ..., which in so "
            "many tries ...",
        ),
        "What was counted and out of what, against equals, and how often equals did the same.",
        "it says no word about who is good, only that they are not all the same.",
        minutes=3,
    ),
)


_PATTERN = np.array([-3, -1, 0, 1, 3])
_FIVES = (
    ("Five trips took {} minutes", "trips"),
    ("Five boxes weigh {} pounds", "boxes"),
    ("Five hitters have {} hard swings", "hitters"),
    ("Five classes have {} pupils", "classes"),
)


def _again_by_hand(rng: np.random.Generator) -> tuple[str, Exercise]:
    said, what = _FIVES[int(rng.integers(len(_FIVES)))]
    times, middle = int(rng.integers(1, 5)), int(rng.choice([13, 14, 15, 17, 19]))
    numbers = middle + times * rng.permutation(_PATTERN)
    away = times * _PATTERN
    told = ", ".join(str(number) for number in numbers[:-1]) + f" and {numbers[-1]}"
    return (
        f"{said.format(told)}. What is the standard deviation of these five, by hand?",
        Exercise(
            "00.again-by-hand",
            "compute",
            Number(float(away.std()), tolerance=0.04),
            (
                Wrong(
                    float(away.var()), "that is the variance, the mean of the squares; its root is asked for."
                ),
                Wrong(
                    float(np.abs(away).mean()),
                    "that is the mean distance. Square, take the mean, then the root.",
                ),
                Wrong(float(away.std(ddof=1)), "you divided by four; here the five share the squares."),
                Wrong(float(np.ptp(away)), f"that is from the lowest to the highest of the {what}."),
                Wrong(float(middle), "that is their mean."),
            ),
            ("Mean, distances, squares, their mean, its root.", f"The mean is {middle}."),
            f"The mean of the squares is {away.var():.0f}, and its root {away.std():.0f}.",
            "distances, squares, their mean, its root.",
            minutes=2,
        ),
    )


_EQUALS = ("pupils of a class", "clerks of a shop", "hitters of a club", "nurses of a ward")


def _again_more_than_luck(rng: np.random.Generator) -> tuple[str, Exercise]:
    who = _EQUALS[int(rng.integers(len(_EQUALS)))]
    low = round(float(rng.uniform(0.02, 0.04)), 3)
    high = round(1.5 * low, 3)
    right = "abc"[int(rng.integers(3))]
    seen = {"a": 1.5 * high, "b": (low + high) / 2, "c": 0.6 * low}[right]
    options = {
        "a": "they differ by more than luck alone gives",
        "b": "they differ by about as much as luck gives",
        "c": "they differ by less than luck alone gives",
        "d": "without their true rates nothing can be said",
    }
    why = {
        "a": "for that the spread has to lie above the range of equals. Where does it lie?",
        "b": "for that the spread has to lie inside the range of equals. Where does it lie?",
        "c": "for that the spread has to lie below the range of equals. Where does it lie?",
        "d": "the range of equals was made without any true rates, and that is enough to compare with.",
    }
    where = {"a": "above", "b": "inside", "c": "below"}[right]
    return (
        f"The rates of the {who} have a standard deviation of {rate_text(seen)}. Of the "
        f"standard deviations of 2,000 groups of equals, drawn by chance, nine in ten lie between "
        f"{rate_text(low)} and {rate_text(high)}. What does that say?",
        Exercise(
            "00.again-more-than-luck",
            "fault",
            Choice(right, options),
            others(why, right),
            ("Hold the one number against the two ends.", "Above, inside or below the range?"),
            f"It lies {where} the range that chance gives: {options[right]}.",
            "first the range of luck, then the word about people.",
            minutes=1,
        ),
    )


_PAIRS = (
    ("this week's sales with the next week's over 60 shops", "shop"),
    ("the marks in spelling with those in sums over 60 pupils", "pupil"),
    ("the first hundred swings with the second over 60 hitters", "hitter"),
)


def _again_correlation(rng: np.random.Generator) -> tuple[str, Exercise]:
    pair, who = _PAIRS[int(rng.integers(len(_PAIRS)))]
    right = "abc"[int(rng.integers(3))]
    size = {"a": rng.uniform(0.7, 0.9), "b": rng.uniform(-0.9, -0.7), "c": rng.uniform(-0.05, 0.05)}[right]
    options = {
        "a": f"a {who} high in the one is mostly high in the other",
        "b": f"a {who} high in the one is mostly low in the other",
        "c": f"how high a {who} is in the one says little of the other",
        "d": f"how high a {who} is in the one makes the other so",
    }
    why = {
        "a": "for that the number has to be well above zero.",
        "b": "for that the number has to be well below zero.",
        "c": "for that the number has to be near zero.",
        "d": "that two columns go together, or do not, names no cause.",
    }
    return (
        f"The correlation of {pair} is {size:.2f}. What does that say?",
        Exercise(
            "00.again-correlation",
            "fault",
            Choice(right, options),
            others(why, right),
            ("Is it near 1, near -1 or near zero?", "Near 1 both are high at once; near -1 one is low."),
            f"{size:.2f}: {options[right]}.",
            "the sign says which way, the size how strictly, and neither says why.",
            minutes=1,
        ),
    )


def _again_after_one(rng: np.random.Generator) -> tuple[str, Exercise]:
    pairs = ((1, 3), (1, 4), (2, 6), (2, 4), (2, 3), (1, 6), (3, 4), (1, 7), (2, 7), (3, 8), (2, 9))
    few, many = pairs[int(rng.integers(len(pairs)))]
    thing, what = (("egg", "cracked"), ("letter", "late"), ("swing", "hard"))[int(rng.integers(3))]
    right = many / (few + many)
    return (
        f"There are two heaps of {thing}s, equally large and not marked. In one {few} of 10 are {what}, "
        f"in the "
        f"other {many} of 10. You take one {thing} from one of the heaps, and it is {what}. How likely is it "
        f"that your heap is the one with more of them? A share from 0 to 1, three decimals.",
        Exercise(
            "00.again-after-one",
            "compute",
            Number(right, tolerance=0.006, share=True),
            (
                Wrong(0.5, f"that is what you believed before you saw that it was {what}."),
                Wrong(many / 10, f"that is how often one of that heap is {what}. What of the other heap?"),
                Wrong(few / (few + many), "that is how likely the other heap is."),
            ),
            (f"Of 10 of each heap, how many are {what} in all?", f"{few} and {many}; whose are they?"),
            f"Of {few + many} that are {what}, {many} lie in that heap: {right:.3f}.",
            "count what was seen, and ask how much of it each one makes.",
            minutes=2,
        ),
    )


LESSON = Lesson(
    "00",
    "Read a spread",
    _verdict,
    "Of 2,000 leagues of equals not one was spread as wide as this one, so they are not all equally good.",
    EXERCISES,
    (
        Again("00.again-by-hand", _again_by_hand),
        Again("00.again-more-than-luck", _again_more_than_luck),
        Again("00.again-correlation", _again_correlation),
        Again("00.again-after-one", _again_after_one),
    ),
)
