"""Lesson 10, ask whether two rates go together: what luck does to a correlation, and how to take it out."""

from __future__ import annotations

from functools import cache

import numpy as np
import pandas as pd

import hitlab
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
from hitlab.exercises.shared import fresh, middle
from hitlab.two_rates.link import Link
from hitlab.wording import percent, rate_text

__all__ = ["LESSON", "TRUE_LINK", "fastball_and_breaking", "hundred_swings", "make_hitters", "observed_link"]

TRUE_LINK = 0.8
"""Correlation of the true rates in the lesson's simulation."""

_MEANS, _SPREADS = np.array([0.79, 0.68]), np.array([0.026, 0.044])


def make_hitters(hitters: int, seed: int) -> np.ndarray:
    """Return true rates, one row a hitter: contact per swing against fastballs and breaking balls."""
    rng = np.random.default_rng(seed)
    covariance = np.outer(_SPREADS, _SPREADS) * np.array([[1.0, TRUE_LINK], [TRUE_LINK, 1.0]])
    return np.clip(rng.multivariate_normal(_MEANS, covariance, hitters), 0.0, 1.0)


def observed_link(true_rates: np.ndarray, swings: int, seed: int) -> float:
    """Return the correlation of the observed rates, after so many swings at each kind of pitch."""
    shown = np.random.default_rng(seed).binomial(swings, true_rates) / swings
    return float(np.corrcoef(shown[:, 0], shown[:, 1])[0, 1])


@cache
def _usual_link(swings: int) -> float:
    """Return the correlation that so many swings show, in a league so large that it has settled."""
    return observed_link(make_hitters(100_000, 1), swings, 2)


@cache
def fastball_and_breaking() -> Link:
    """Return the lesson's link: contact per swing against fastballs and against breaking balls."""
    kinds = [hitlab.situation(f"pitch_kind={kind}") for kind in ("fastball", "breaking")]
    first, second = (hitlab.two_rates.RateOf("contact", "swings", kind) for kind in kinds)
    return hitlab.two_rates.correlate_rates(hitlab.demo_season(), first, second)


def _by_hand() -> float:
    link = fastball_and_breaking()
    return link.naive / float(np.sqrt(np.prod(link.reliabilities)))


def hundred_swings() -> pd.Series:
    """Return rate and true spread of contact per swing against fastballs, rounded as they are shown."""
    link = fastball_and_breaking()
    rate = link.data["first_events"].sum() / link.data["first_exposure"].sum()
    return pd.Series({"rate": round(float(rate), 3), "spread": round(link.spreads[0], 4)})


def _variances() -> tuple[float, float]:
    shown = hundred_swings()
    return float(shown["spread"] ** 2), float(shown["rate"] * (1 - shown["rate"]) / 100)


def _true_share() -> float:
    true, luck = _variances()
    return true / (true + luck)


def _share_of_spreads() -> float:
    true, luck = np.sqrt(_variances())
    return float(true / (true + luck))


def luck_out(contact, swings):  # type: ignore[no-untyped-def]
    rates = contact / swings
    luck = (rates * (1 - rates) / swings).mean()
    shares = (rates.var() - luck) / rates.var()
    seen = rates["fast"].corr(rates["breaking"])
    return seen / np.sqrt(shares["fast"] * shares["breaking"])


def _seen_and_shares(contact: pd.DataFrame, swings: pd.DataFrame) -> tuple[float, list[float]]:
    rates, shares = [], []
    for kind in ("fast", "breaking"):
        rate = contact[kind] / swings[kind]
        luck = (rate * (1 - rate) / swings[kind]).mean()
        shares.append(float((rate.var() - luck) / rate.var()))
        rates.append(rate)
    return float(np.corrcoef(rates[0], rates[1])[0, 1]), shares


def _counts_of_a_league(rng: np.random.Generator) -> tuple[pd.DataFrame, pd.DataFrame]:
    """Eighty hitters whose lists hold both skill and luck, whatever is drawn."""
    spreads = np.array([0.05, 0.06])
    covariance = np.outer(spreads, spreads) * np.array([[1.0, 0.7], [0.7, 1.0]])
    true = np.clip(rng.multivariate_normal(_MEANS, covariance, 80), 0.4, 0.95)
    swings = rng.integers([150, 90], [400, 220], size=(80, 2))
    contact = rng.binomial(swings, true)
    kinds = ["fast", "breaking"]
    return pd.DataFrame(contact, columns=kinds), pd.DataFrame(swings, columns=kinds)


def _put_in_again(contact: pd.DataFrame, swings: pd.DataFrame) -> float:
    seen, shares = _seen_and_shares(contact, swings)
    return float(seen * np.sqrt(shares[0] * shares[1]))


def _without_root(contact: pd.DataFrame, swings: pd.DataFrame) -> float:
    seen, shares = _seen_and_shares(contact, swings)
    return float(seen / (shares[0] * shares[1]))


def _shares_of_luck(contact: pd.DataFrame, swings: pd.DataFrame) -> float:
    seen, shares = _seen_and_shares(contact, swings)
    return float(seen / np.sqrt((1 - shares[0]) * (1 - shares[1])))


def _skill_over_luck(contact: pd.DataFrame, swings: pd.DataFrame) -> float:
    seen, shares = _seen_and_shares(contact, swings)
    ratios = [share / (1 - share) for share in shares]
    return float(seen / np.sqrt(ratios[0] * ratios[1]))


_DRAWS = 4_000


def drawn_again(first, second, rng):  # type: ignore[no-untyped-def]
    links, hitters = [], len(first)
    for _ in range(4_000):
        pick = rng.integers(hitters, size=hitters)
        links.append(np.corrcoef(first[pick], second[pick])[0, 1])
    return np.quantile(links, [0.05, 0.95])


def _drawn_surely(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    """Return the ends of so many draws that their own luck no longer shows, 10,000 at once."""
    draws, links = np.random.default_rng(0), []
    for _ in range(8):
        pick = draws.integers(len(first), size=(10_000, len(first)))
        links.append(_links(first[pick], second[pick]))
    return middle(np.array(links))


def _links(first: np.ndarray, second: np.ndarray) -> np.ndarray:
    """Return the correlation of each row with its like."""
    one, other = (rows - rows.mean(axis=1, keepdims=True) for rows in (first, second))
    both, own, others = (np.einsum("ij,ij->i", *pair) for pair in ((one, other), (one, one), (other, other)))
    return np.asarray(both / np.sqrt(own * others))


def _links_of_pairs(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    pick = rng.integers(len(first), size=(_DRAWS, len(first)))
    return _links(first[pick], second[pick])


def _rates_of_a_league(rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray, np.random.Generator]:
    """Draw lists of one correlation or nearly, so that draws lie about as far apart in every case."""
    hitters, shown = int(rng.integers(100, 126)), float(rng.uniform(0.38, 0.5))
    one, other = rng.standard_normal((2, hitters)).clip(-2, 2)
    one = (one - one.mean()) / one.std()
    other -= other.mean() + (one * other).mean() * one
    second = 0.68 + 0.06 * (shown * one + np.sqrt(1 - shown**2) * other / other.std())
    return 0.79 + 0.04 * one, second, fresh(rng)


def _lists_apart(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    one, other = rng.integers(len(first), size=(_DRAWS, 2, len(first))).swapaxes(0, 1)
    return middle(_links(first[one], second[other]))


def _without_replacement(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    return np.repeat(np.corrcoef(first, second)[0, 1], 2)


def _middle_four_fifths(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    return middle(_links_of_pairs(first, second, rng), 0.1)


def _outermost(first: np.ndarray, second: np.ndarray, rng: np.random.Generator) -> np.ndarray:
    return middle(_links_of_pairs(first, second, rng), 0)


def _verdict() -> str:
    return hitlab.check_together(fastball_and_breaking()).verdict


_HOW_SURE = (
    *patterns.CHANCE,
    r"\b(?:may|might|seem|seems|appear|appears|tend|tends)\b",
    r"\b(?:confiden|interval|range)",
    r"\b(?:almost|nearly|pretty|fairly|quite) (?:certain|sure)",
)
HITTERS = 150
"""The hitters among whom the claim was checked."""

_CHANCE, _LINK, _LINK_ENDS, _SHOWN_LINK, _LEVEL = 0.99, 0.84, (0.63, 0.98), 0.39, 0.9
"""The chance that the two go together is more than this; the true correlation, its interval, what shows."""

_TOGETHER = (
    r"\bthe ones who touch \w+ best\b.{0,40}\balso the ones who touch\b",
    r"\b(?:go|goes|went|going|belongs?|comes?|moves?|rises?) (?:\w+ ){0,2}(?:together|hand in hand|with)\b",
    r"\b(?:link|linked|links|correlat\w*|related|relation\w*|connected|connection|tied)\b",
    r"\b(?:more|better|higher|high|fewer|less|lower|low|good|often|well|many|few)\b.*"
    r"\b(?:more|better|higher|high|fewer|less|lower|low|good|many|few|often|too|also|as well|likewise|"
    r"same)\b",
)
_MORE = r"(?:more|better|higher|most(?! likely| probabl)|high|many|good|often)"
_FEWER = r"(?:fewer|less|lower|worse|poorer|low|few|poor|bad|rarely|seldom)"
_TOUCH = r"(?:touch\w*|contact|connect\w*|(?:get|gets|put|puts) (?:the|their) bat on|meets?)"
_MISS = r"(?:miss\w*|whiff\w*|swing\w* through)"
_NEAR = r"(?:(?!not\b|no\b)[\w'-]+ ){0,2}"
_OFTEN, _SELDOM = (
    rf"(?:\b{most} {_NEAR}{_TOUCH}|\b{_TOUCH} {_NEAR}{most}|"
    rf"\b{least} {_NEAR}{_MISS}|\b{_MISS} {_NEAR}{least})\b"
    for most, least in ((_MORE, _FEWER), (_FEWER, _MORE))
)
_ELLIPSIS = (
    rf"(?:{_FEWER}|worse) (?:of |with |on |at |against )?(?:the )?(?:breaking|breakers|curve|bend|fast)"
)
_TURNED_ROUND = tuple(
    TooMuch(pattern, patterns.TURNED)
    for pattern in (
        rf"{_OFTEN}[^.;:]*?{_SELDOM}|{_SELDOM}[^.;:]*?{_OFTEN}",
        rf"(?:\b{_MORE} {_NEAR}{_TOUCH}|\b{_TOUCH} {_NEAR}{_MORE})\b(?:(?!{_MISS})[^.;:])*?\b{_ELLIPSIS}",
        rf"\b(?:(?:do|does|did|would|will)(?: not|n't)|fail to|never|hardly) (?:[\w'-]+ ){{0,2}}"
        rf"(?:{_TOUCH}|{_MISS}|make) (?:[\w'-]+ ){{0,2}}(?:{_MORE}|{_FEWER}|any)\b|"
        r"\b(?:do|does)(?: not|n't) (?:\w+ )?(?:correlate|relate)|"
        r"\b(?:is|are)(?: not|n't) (?:\w+ )?(?:linked|related|connected|correlated|tied)\b|"
        r"\b(?:better|higher|more)\b[^.;:]*\bwith (?:an? )?(?:worse|lower|fewer|less)\b|"
        r"\b(?:worse|lower|fewer|less)\b[^.;:]*\bwith (?:an? )?(?:better|higher|more)\b",
        *(
            rf"\bthe {one} [^,;.]*?\b{verb}\b[^.;]*?\bthe {other} [^.;]*?\b{again}\b"
            for one, other, verb, again in (
                (_MORE, _FEWER, _TOUCH, _TOUCH),
                (_FEWER, _MORE, _TOUCH, _TOUCH),
                (_MORE, _FEWER, _MISS, _MISS),
                (_FEWER, _MORE, _MISS, _MISS),
                (_MORE, _MORE, _TOUCH, _MISS),
                (_FEWER, _FEWER, _TOUCH, _MISS),
                (_MORE, _MORE, _MISS, _TOUCH),
                (_FEWER, _FEWER, _MISS, _TOUCH),
            )
        ),
        r"\b(?:go|goes) down (?:with|as|when)\b(?![^.;:]*\b(?:down|falls?|drops?|too|also)\b)",
        r"\b(?:says?|tells?|means?|shows?) (?:us |you )?(?:nothing|little|not much)\b|"
        r"\b(?:no|hardly any|little|zero) (?:\w+ )?(?:link|relation\w*|connection|correlation|tie)\b|"
        r"\b(?:no|little|hardly any) (?:\w+ )?(?:evidence|sign|proof)\b|\bat the (?:cost|expense) of\b|"
        r"\bagainst each other\b|\binstead of\b|"
        r"\b(?:independent|unlinked|unconnected|opposite (?:ways|directions)|apart from each other|"
        r"the other way round)\b",
        r"\b(?:unlikely|improbable|doubtful)\b(?:(?!\bno\b|nothing|\bnot\b|n't\b|luck|chance)[^.;:])*?"
        r"\b(?:link\w*|together|related|correlat\w*|more|better|connect\w*)\b",
        r"\b[1-8]?\d(?:\.\d)? ?(?:%|per ?cent) chance\b",
    )
)
_OVERCLAIMS = (
    *_TURNED_ROUND,
    TooMuch(
        r"\b(?:open|unclear|undecided|unsettled|toss-?up|jury|perhaps not|maybe not|or not|"
        r"nobody (?:knows|can (?:say|tell))|(?:cannot|can't) (?:yet )?(?:say|tell)|too (?:early|close|few))\b"
        r"(?!.*\b(?:why|cause|one hitter|single|each|park|what))",
        "that leaves open what was shown",
    ),
    TooMuch(
        r"\b(?:(?:do|does|did|would|to)(?: not|n't)|never|hardly) (?:go|belong|come) together|\bunrelated\b|"
        r"\bnothing to do with\b|\b(?:two|different|separate) (?:skills|talents|gifts|abilities)\b",
        "that reads the luck in two lists as a lack of any link",
    ),
    TooMuch(
        r"\b(?:because|due to|thanks to|makes? (?:him|her|them|you|hitters)|leads? to|comes? from|"
        r"teaches|causes?|explains?)\b",
        "that names a cause, and going together names none",
    ),
    TooMuch(
        r"\b(?:one|same|single|common) (?:skill|talent|gift|ability)\b",
        "that says what is behind both, and park or schedule could be, too",
    ),
    TooMuch(
        r"\b(?:whoever|anyone|anybody|everyone|everybody|every hitter|each hitter|any hitter|all "
        r"hitters)\b(?![^.;:]*\btend)",
        "that says it of each hitter, and it holds on the whole",
    ),
    TooMuch(
        r"\b(?:perfect(?:ly)?|exactly the same|identical|in lockstep)\b",
        "that is more than the interval holds",
    ),
    TooMuch(
        r"\bwill (?:be|also|hit|touch|make|handle)\b", "that foretells one hitter, and little is said of one"
    ),
)

_WITH = r"(?:(?:of|on|with|at|against) )?(?:(?:their|the|our) )?"
_FASTBALLS, _BREAKING = (
    rf"{_WITH}{kind}(?: they swing at| per swing| when they swing)?"
    for kind in ("(?:fastballs?|heaters?)", "(?:breaking (?:balls?|stuff|ones|pitches)|breakers?)")
)
_MID = frames.fill(
    "very most likely probably almost certainly tends? to also surely usually generally as a rule ,"
)
_TOUCHES = r"(?:makes?|making|touch|touches|have|has|gets?|miss|misses|whiff|whiffs)"
_LINKED = (
    r"(?:go|goes|rises? and falls?|belongs?) (?:together|hand in hand)|(?:is|are|be|very likely|most "
    r"likely) (?:\w+ly )?(?:linked|related)"
)
_FRAMES = (
    r"(?:(?:among|of|across|over|for|all|the|these|our|league|'s|out|looking|at|by|judging|with|in) "
    rf")*{HITTERS}"
    r"(?: hitters| of them)?",
    *(
        rf"{_TOUCHES} {same}(?: contact| rate)?(?: often)?(?: per swing)? {_FASTBALLS}{_MID} {_TOUCHES} "
        rf"{same}(?: contact| one| rate)?(?: often)? {_BREAKING}"
        for same in ("more", "fewer", "less", "many", "often", "a (?:higher|better)", "a lower")
    ),
    *(
        rf"(?:an? )?{same} contact(?: rate)?(?: per swing)? {_FASTBALLS}{_MID} (?:goes|comes|means|have|"
        rf"go)(?: together)?(?: with)?(?: an?)? {same}"
        rf"(?: contact| one)?(?: per swing)? {_BREAKING}"
        for same in ("more", "higher", "better", "low", "lower", "high")
    ),
    rf"(?:the )?more contact(?: per swing)? {_FASTBALLS}(?: ,)?(?: the)? more(?: contact)? {_BREAKING}",
    rf"contact(?: per swing)? {_FASTBALLS} and (?:contact )?(?:per swing )?{_BREAKING}(?: ,)?(?: both per "
    rf"swing ,)?{_MID} (?:{_LINKED})",
    rf"contact(?: per swing)? {_FASTBALLS}{_MID} (?:goes|comes|is linked|go up)(?: together)? with(?: "
    rf"contact)?(?: per swing)? {_BREAKING}",
    rf"(?:being )?good at touching {_FASTBALLS} and being good at touching {_BREAKING}{_MID} (?:{_LINKED})",
    r"the fewer fastballs a (?:man|hitter) misses(?: per swing)? , the fewer breaking balls he(?: "
    r"probably| likely)? misses",
    r"(?:(?:better|more) than |over |about |of )*99%(?: sure| chance| certain)?|as well|on the whole|as a "
    r"group|almost certain(?:ly)?",
    r"per swing|they swing at|when they swing|making contact|hitter|whoever",
    r"(?:hitters|those) who touch (?:the fastball|fastballs) more often(?: when they swing)?(?: also)?(?: "
    r"tend to| most likely|"
    r" very likely)* touch (?:the breaking ball|breaking balls|breaking stuff) more often(?: , too)?",
    r"whose true contact per swing is higher against fastballs(?: most likely| very likely)? have a higher "
    r"one against "
    r"breaking balls|touching fastballs and touching breaking balls|each per swing|go hand in hand",
    r"(?:with|once) (?:the )?luck(?: is)? taken out|a true correlation of(?: about)? \.84|out of all "
    r"swings they take|"
    r"more than 99% sure",
    r"those who make more contact per swing on fastballs(?: most likely| very likely)?(?: also)? make "
    r"more(?: contact)? on "
    r"breaking balls",
    r"contact(?: rates)? per swing on fastballs and(?: on)? breaking balls(?: almost surely| most likely)? "
    r"(?:go|rise) together",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "10.fifty-swings",
        "predict",
        Bounds(lambda: _usual_link(50), widest=0.2),
        (
            Wrong(
                (0.70, 0.85),
                "that is the true correlation. Fifty swings show each true rate through a thick fog.",
                when=lambda ends: 0.5 <= ends[0] <= TRUE_LINK <= ends[1],
            ),
            Wrong(
                (0.5, 0.7),
                "so much shows after 500 swings or more. Fifty show each true rate through a thick fog.",
                when=lambda ends: 0.5 <= ends[0] < TRUE_LINK,
            ),
            Wrong(
                (0.82, 0.95),
                "that is more than is true. Luck of two lists makes them agree less, not more.",
                when=lambda ends: ends[0] > TRUE_LINK,
            ),
            Wrong(
                (0.32, 0.48),
                "less: that is what about 200 swings show. With a quarter of them there is much more luck.",
                when=lambda ends: _usual_link(50) < ends[0] < 0.5,
            ),
            Wrong(
                (-0.10, 0.05),
                "so much fog that nothing is left? A little of the link still shows.",
                when=lambda ends: ends[1] < _usual_link(50),
            ),
        ),
        (
            "The fewer the swings, the smaller the correlation of what you see. Look at the printed row.",
            "With 50 swings three quarters or more of it are gone.",
        ),
        lambda: (
            f"The true correlation is {rate_text(TRUE_LINK)}; after 50 swings at each kind of pitch about "
            f"{rate_text(_usual_link(50))} is left to see."
        ),
        "luck in either rate pulls the correlation toward zero. A small one does not tell you 'no link'.",
        minutes=3,
    ),
    Exercise(
        "10.from-counts",
        "complete",
        Code(luck_out, _counts_of_a_league, tolerance=0.005),
        (
            Wrong(_put_in_again, "you multiplied: that puts the luck in a second time."),
            Wrong(_without_root, "the root is missing, or one of the shares stands twice under it."),
            Wrong(_shares_of_luck, "your shares are those of luck. What is left once luck is taken away?"),
            Wrong(
                _skill_over_luck,
                "you divided skill by luck. A share is out of the whole variance of the list.",
            ),
        ),
        (
            "The first gap: out of what is a rate? Then what has to be taken from the variance of the "
            "list, and out of what it is a share.",
            "(rates.var() - luck) / rates.var(), and under the root the two shares multiplied.",
        ),
        "Rate by rate: the variance less that of luck, out of the variance; then what shows over the root of "
        "both shares.",
        "counts are all that it takes. The package weighs hitters by their swings, and adds an interval.",
        minutes=5,
    ),
    Exercise(
        "10.drawn-again",
        "write",
        Code(drawn_again, _rates_of_a_league, tolerance=0.0135, cases=3, surely=_drawn_surely),
        (
            Wrong(
                _lists_apart,
                "you drew each list by itself, so that one hitter's fastballs stand beside another's "
                "breaking balls. Draw hitters, with both of their rates.",
            ),
            Wrong(
                _without_replacement,
                "you drew every hitter once, in another order: the correlation is the same each time. "
                "Draw with replacement.",
            ),
            Wrong(_middle_four_fifths, "that is the middle 80 %: a tenth is cut off at either end."),
            Wrong(
                _outermost,
                "those are the least and the most of all draws. Cut off a twentieth at either end.",
            ),
        ),
        (
            "rng.integers(n, size=n) gives n places from 0 to n - 1, some of them twice.",
            "pick = rng.integers(n, size=n), then np.corrcoef(first[pick], second[pick])[0, 1] into a "
            "list; at the end np.quantile(..., [0.05, 0.95]).",
        ),
        "Places with replacement, the same places for both lists, correlate, and cut off a twentieth at "
        "either end.",
        "a fair line around what shows. Whether what shows is what is true, it does not ask.",
        minutes=6,
    ),
    Exercise(
        "10.out-of-what",
        "denominator",
        Choice(
            "b",
            {
                "a": "his swings at pitches of all kinds",
                "b": "his swings at breaking balls",
                "c": "the breaking balls that he saw",
                "d": "the pitches of all kinds that he touched",
            },
        ),
        (
            Wrong("a", "then who sees few breaking balls looks bad against them."),
            Wrong("c", "then letting a bad one go by counts against him. The question begins at the swing."),
            Wrong("d", "that says which pitches he touches, not how often he touches this one."),
        ),
        (
            "What follows 'when' in the question goes below the line, all of it.",
            "Swings, and only at that kind of pitch.",
        ),
        "Each time he swings at a breaking ball: so swings at breaking balls stand below the line.",
        "and no swing stands in both rates: one counts fastballs, the other breaking balls.",
        minutes=2,
    ),
    Exercise(
        "10.take-the-luck-out",
        "compute",
        Number(_by_hand, tolerance=0.007),
        (
            Wrong(
                lambda: fastball_and_breaking().naive * fastball_and_breaking().largest_naive,
                "multiplied: that puts the luck in a second time. To take it out, divide.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / float(np.prod(fastball_and_breaking().reliabilities)),
                "you left out the root. A correlation above 1 cannot be.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / fastball_and_breaking().reliabilities[0],
                "that uses the first share twice. Each rate brings its own.",
            ),
            Wrong(
                lambda: fastball_and_breaking().naive / fastball_and_breaking().reliabilities[1],
                "that uses the second share twice. Each rate brings its own.",
            ),
            Wrong(lambda: fastball_and_breaking().naive, "that is what shows. The luck is still in it."),
        ),
        (
            "What shows = what is true × the root of the two shares multiplied. Turn it round.",
            "observed / np.sqrt(share_one * share_two)",
        ),
        lambda: (
            f"{rate_text(fastball_and_breaking().naive)} over the root of "
            f"{rate_text(fastball_and_breaking().reliabilities[0])} × "
            f"{rate_text(fastball_and_breaking().reliabilities[1])} is {rate_text(_by_hand())}."
        ),
        "by hand it is one number without an interval, and it can pass 1. The package takes all 150 hitters, "
        "each by his swings. Its number is higher by less than a tenth, well inside the interval it gives.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "10.same-swings",
        "fault",
        Choice(
            "c",
            {
                "a": "among 100 hitters luck alone makes a correlation of that size quite often",
                "b": "luck pulls correlations toward 0, so the true one is even farther from it",
                "c": "both rates come from the same swings: a miss more is a hard ball less, by luck alone",
                "d": "both should be counted per turn at bat, and then they would have a luck of their own",
            },
        ),
        (
            Wrong(
                "a",
                "with 100 hitters, luck that is apart in the two rates makes one so far from 0 about once in "
                "a thousand. Is the luck apart here?",
            ),
            Wrong("b", "so it does where each rate has a luck of its own. Have these two?"),
            Wrong("d", "both would come from the same turns at bat then. Which swings would be shared?"),
        ),
        (
            "Suppose all hitters were alike. One happens to miss ten more. What of his hard balls?",
            "A swing that misses cannot also be a hard ball.",
        ),
        "Even if all hitters were alike, those who happened to miss more would have fewer swings left for "
        "hard balls. Luck alone makes the two go apart. correlate_rates declines such a pair.",
        "two rates need swings of their own, or their luck is one luck.",
        minutes=4,
    ),
    Exercise(
        "10.two-exams",
        "transfer",
        Number(0.60, tolerance=0.015),
        (
            Wrong(0.15, "multiplied: that adds luck where it should be taken out."),
            Wrong(0.30, "that is what shows. Half of each exam is still luck."),
            Wrong(0.30 / 0.5**0.5, "that takes the luck out of one exam only."),
            Wrong(1.20, "you left out the root. A correlation above 1 cannot be."),
        ),
        (
            "The same formula: what shows, over the root of the two shares multiplied.",
            "The root of 0.5 × 0.5 is 0.5.",
        ),
        "0.30 over the root of 0.5 × 0.5 is .60: who knows one subject tends to know the other.",
        "short exams make subjects look unrelated. So do short seasons.",
        minutes=4,
    ),
    Exercise(
        "10.hundred-swings",
        "compute",
        Number(_true_share, tolerance=0.009, share=True),
        (
            Wrong(lambda: 1 - _true_share(), "that is the share of luck."),
            Wrong(
                lambda: fastball_and_breaking().reliabilities[0],
                "that is the share after all the swings that they had. Asked is after 100.",
            ),
            Wrong(_share_of_spreads, "square the spread first: variances add up, spreads do not."),
            Wrong(
                lambda: _variances()[0] / _variances()[1], "true over luck. Asked is true over both together."
            ),
        ),
        (
            "Two variances: the spread squared, and rate × (1 - rate) / 100. Then the first over their sum.",
            "true = spread**2; luck = rate * (1 - rate) / 100; true / (true + luck)",
        ),
        lambda: (
            f"Of what sets hitters apart after 100 swings, {percent(_true_share())} is true and the rest is "
            "luck."
        ),
        "after 100 swings most of the list is luck. That is why lists hardly agree with each other.",
        minutes=5,
        core=False,
    ),
    Exercise(
        "10.for-air",
        "say",
        Sentence(
            (
                Point(
                    "who",
                    "the hitters, with their number",
                    (patterns.number(HITTERS),),
                ),
                Point("one rate", "touching fastballs", (r"\bfast ?balls?\b", r"\bheaters?\b")),
                Point(
                    "the other",
                    "touching breaking balls",
                    (r"\bbreaking\b", r"\bbreakers?\b", r"\bbend\w*", r"\bcurve"),
                ),
                Point(
                    "what",
                    "what is counted: contact",
                    (
                        r"\btouch\w*",
                        r"\bcontact",
                        r"\bmiss(?:es|ing)?\b",
                        r"\bconnect",
                        r"\bwhiff",
                        r"\bfinds?\b",
                        r"\bget\w* the bat",
                    ),
                ),
                Point("out of what", "per swing", (r"\bswing", r"\bswung\b")),
                Point("how the two lie", "that they go together", _TOGETHER),
                Point("how sure", "a chance, or most likely", _HOW_SURE),
            ),
            f"Among the {HITTERS} hitters of this league, those who touch more of the fastballs they swing "
            "at most likely touch more of the breaking balls, too.",
            frames=_FRAMES,
            phrases=(
                "150",
                "99 in 100",
                "99%",
                "99 chances",
                "a 99% chance",
                ".84",
                "almost certain",
                "most likely more, too",
                "more than 99% sure",
                "the chance is over 99%",
                "more than 99 chances in 100",
                "once luck is out more than 99% sure",
                "more than 99% likely",
                "together with a chance of more than 99 in 100",
                "most likely they touch more breaking balls too",
                "the more, the more, and that is almost certain",
                "most likely touch more of them",
                "those who touch more touch more of the breaking balls, too, most likely",
                "most likely it rises",
                "very probably hand in hand",
                "likely misses many",
                "the fewer he probably misses",
                "they most likely touch more, too",
                "most likely more of the fastballs and more of the breaking balls too",
                "touch more per swing most likely touch more of them too",
                "of these 150",
                "with luck taken out",
                "of .84",
            ),
            figures=(HITTERS, _CHANCE, _LINK, *_LINK_ENDS, _SHOWN_LINK, _LEVEL),
            too_much=_OVERCLAIMS,
            good=(
                "Per swing, contact with fastballs and contact with breaking balls most likely go together, "
                "judging by 150 hitters.",
                "Over 150 hitters there is a better than 99 percent chance that contact per swing on "
                "fastballs goes with contact per swing on breaking balls.",
                "One hundred and fifty hitters: the ones who miss fewer fastballs when they swing probably "
                "miss fewer breaking balls as well.",
                "Among 150 hitters, those who miss fewer fastballs per swing also tend to miss fewer "
                "breaking balls, very likely.",
                "Across the league's 150 hitters, contact per swing against fastballs and breaking balls "
                "almost certainly go together.",
                "Looking at 150 hitters, better contact per swing on fastballs very likely means better "
                "contact on breaking stuff, on the whole.",
                "Of 150 hitters, those who miss more fastballs per swing most likely miss more breaking "
                "balls, too.",
            ),
            bad=(
                (
                    "Hitters who touch more fastballs per swing most likely touch more breaking balls as "
                    "well.",
                    "who",
                ),
                (
                    "Of 150 hitters those who make more contact with fastballs most likely make more with "
                    "breaking balls.",
                    "out of what",
                ),
                (
                    "Across 150 hitters contact per swing on fastballs goes with contact per swing on "
                    "breaking balls.",
                    "how sure",
                ),
                (
                    "Contact per swing at fastballs and at breaking balls is most likely one skill, as 150 "
                    "hitters show.",
                    "too much",
                ),
                (
                    "Contact per swing with fastballs and with breaking balls most likely does not go "
                    "together, as 150 hitters show.",
                    "too much",
                ),
                (
                    "Whoever of the 150 touches more fastballs per swing most likely touches more "
                    "breaking balls.",
                    "too much",
                ),
                (
                    "Among 150 hitters more contact per swing on fastballs most likely leads to more "
                    "contact on breaking balls.",
                    "too much",
                ),
                (
                    "Over 150 hitters, contact per swing was most likely counted on fastballs and on "
                    "breaking balls.",
                    "how the two lie",
                ),
                (
                    "Among the 150 hitters of this league, those who touch more of the fastballs they swing "
                    "at most likely touch fewer of the breaking balls.",
                    "too much",
                ),
                (
                    "Among 150 hitters those who touch more fastballs per swing most likely do not touch "
                    "more breaking balls.",
                    "too much",
                ),
                (
                    "Over 150 hitters it is unlikely that contact per swing on fastballs and on breaking "
                    "balls have any link.",
                    "too much",
                ),
                (
                    "Over 150 hitters, contact per swing on fastballs probably says nothing about contact on "
                    "breaking balls.",
                    "too much",
                ),
                (
                    "Among 150 hitters, those who miss fewer fastballs per swing most likely miss more "
                    "breaking balls.",
                    "too much",
                ),
                (
                    "Of 140 hitters, those who touch more fastballs per swing most likely touch more "
                    "breaking balls, too.",
                    "too much",
                ),
            ),
        ),
        (),
        (
            "How many hitters, which two rates and out of what; that they go together; and how sure that is.",
            "For instance: among so many hitters, those who touch more of the ... they swing at most "
            "likely ...",
        ),
        "All hitters of the list, both rates with their denominator, that they go together, and a chance: no "
        "cause, no promise for one hitter.",
        "it says what was found of all of them, and leaves the next hitter free to be otherwise.",
        minutes=4,
    ),
)


def _again_out(rng: np.random.Generator) -> tuple[str, Exercise]:
    one, other = ((0.4, 0.9), (0.45, 0.8), (0.2, 0.8))[int(rng.integers(3))]
    true = float(rng.choice([0.4, 0.5, 0.6, 0.7, 0.8]))
    root = float(np.sqrt(one * other))
    seen = true * root
    what = (
        "Marks in two short exams",
        "The points of two wine tasters",
        "A club's attendance on two days of the week",
    )[int(rng.integers(3))]
    return (
        f"{what} correlate by {seen:.2f}. Of the first list's variance {one:.0%} is true and the rest luck, "
        f"of the second's {other:.0%}. By how much does what is true of the two correlate? Two decimals.",
        Exercise(
            "10.again-luck-out",
            "compute",
            Number(true, tolerance=0.015),
            (
                Wrong(seen * root, "multiplied: that puts the luck in a second time."),
                Wrong(seen / (one * other), "the root is missing."),
                Wrong(seen / one, "that takes the luck out with the first share alone, and without a root."),
                Wrong(
                    seen / other, "that takes the luck out with the second share alone, and without a root."
                ),
            ),
            ("What shows, over the root of the two shares multiplied.", f"The root is {root:.1f}."),
            f"{seen:.2f} over the root of {one:g} × {other:g}, which is {root:.1f}, is {true:.2f}.",
            "luck hides links; divided by what is true of the lists they come out again.",
            minutes=1,
        ),
    )


def _again_itself(rng: np.random.Generator) -> tuple[str, Exercise]:
    noisy = bool(rng.integers(2))
    seen = int(rng.integers(31, 39))
    itself = seen + int(rng.integers(1, 4)) if noisy else int(rng.integers(89, 95))
    first, second, many = (
        ("the sales of bread", "the sales of cheese", "80 market stalls"),
        ("contact per swing against left-handers", "contact per swing against right-handers", "120 hitters"),
        ("mistakes in spelling", "mistakes in sums", "90 pupils"),
    )[int(rng.integers(3))]
    right = "a" if noisy else "b"
    why = {
        "a": f"a list agrees with itself by 0.{itself}, so luck hides little. What shows is nearly all.",
        "b": f"a list agrees with itself by no more than 0.{itself}. What shows has the luck of both in it.",
        "c": "shares of luck are not taken away like that. What could show at most?",
        "d": "what shows is well above 0, and luck pulls it toward 0.",
    }
    return (
        f"Of {many}, {first} and {second} correlate by 0.{seen}. Taken once more in the same way, each list "
        f"correlates with its own repeat by 0.{itself}. What do you conclude about the link of what is true?",
        Exercise(
            "10.again-itself",
            "fault",
            Choice(
                right,
                {
                    "a": "it may be close to 1: a list agrees with itself hardly better",
                    "b": f"it is a weak one, a little above 0.{seen}: luck hides little of it",
                    "c": f"it is the gap of the two, 0.{itself - seen:02d}: so much is left of it",
                    "d": "there is none: what shows of it is luck",
                },
            ),
            others(why, right),
            (
                "What would show if both lists measured one and the same thing?",
                f"As much as a list shows of itself, 0.{itself}.",
            ),
            "Even one and the same thing would show no more than a list shows of itself; this is "
            + ("nearly as much." if noisy else f"far less: about 0.{seen} / 0.{itself} is true."),
            "ask how well a list agrees with itself before you ask whether it agrees with another.",
            minutes=1,
        ),
    )


LESSON = Lesson(
    "10",
    "Ask whether two rates go together",
    _verdict,
    "Once the luck is taken out of both rates, hitters who touch more fastballs touch more breaking balls.",
    EXERCISES,
    (Again("10.again-luck-out", _again_out), Again("10.again-itself", _again_itself)),
)
