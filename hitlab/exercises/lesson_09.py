"""Lesson 9, be ready for the fastball: what a foul's side tells, and what fair shares and whiffs do not."""

from __future__ import annotations

from functools import cache
from math import comb
from typing import Any

import numpy as np
import pandas as pd

import hitlab
from hitlab.approach.readiness import zone_parts
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
from hitlab.exercises.shared import dealt_at_least, fresh
from hitlab.pitches.schema import FAMILIES
from hitlab.wording import percent, rate_text

__all__ = ["FAST_MPH", "LEAST_FOULS", "LESSON", "foul_sides", "fouls", "real_fastballs"]

FAST_MPH = 94.0
LEAST_FOULS = 30
"""A fast fastball, and the fouls that a hitter needs to be on the lesson's list."""

THE_HITTER = "Sade Tovebakk"
THE_OTHER = "Xiomara Yorigane"
THE_MISSER = "Zora Pasosende"

_SIDES = {"late": "opposite", "early": "pull", "back": "straight back"}


def _fastball_swings(pitches: pd.DataFrame) -> pd.DataFrame:
    """Return the swings at fastballs, a foul tip being a miss, as in the lesson."""
    swung = hitlab.counting.swing_ledger(pitches)["swing"]
    swings: pd.DataFrame = pitches[pitches["pitch_kind"].isin(FAMILIES["fastball"]) & swung].copy()
    swings["fair"] = swings["outcome"] == "in play"
    swings["foul"] = swings["outcome"] == "foul"
    swings["deep"] = (swings["strikes"] == 2).fillna(False).astype(bool)
    return swings


@cache
def _swings() -> pd.DataFrame:
    season = pd.read_parquet(hitlab.demo_season())
    swings = _fastball_swings(season)
    swings["part"] = zone_parts(swings)
    for name, side in _SIDES.items():
        swings[name] = swings["foul"] & (swings["foul_side"] == side).fillna(False).astype(bool)
    return swings


@cache
def fouls() -> pd.DataFrame:
    """Return one row a hitter: fastballs with fewer than two strikes, and which way the fouls went."""
    early = _swings()[~_swings()["deep"]]
    groups = early.assign(swings=1, contact=early["fair"] | early["foul"]).groupby(["hitter_id", "hitter"])
    names = ["swings", "contact", "fair", "foul", *_SIDES]
    counted: pd.DataFrame = groups[names].sum().astype("int64").rename(columns={"foul": "fouls"})
    return counted.reset_index()


def _row(hitter: str) -> dict[str, int]:
    table = fouls()
    row = table[table["hitter"] == hitter].iloc[0]
    return {name: int(row[name]) for name in ("swings", "contact", "fair", "fouls", *_SIDES)}


def _of(hitter: str, event: str, per: str) -> float:
    return _row(hitter)[event] / _row(hitter)[per]


def foul_sides() -> pd.DataFrame:
    """Return one row a foul on a fastball, fewer than two strikes: speed, part of the zone, which side."""
    swings = _swings()
    chosen: pd.DataFrame = swings.loc[swings["foul"] & ~swings["deep"], ["speed_mph", "part", *_SIDES]]
    return chosen.reset_index(drop=True)


def _late_per_hundred(fast: bool) -> float:
    sides = foul_sides()
    return float(100 * sides.loc[(sides["speed_mph"] >= FAST_MPH) == fast, "late"].mean())


def _foul_share(deep: bool | None) -> float:
    swings = _swings() if deep is None else _swings()[_swings()["deep"] == deep]
    return float(swings["foul"].sum() / (swings["foul"] | swings["fair"]).sum())


def _fouls_per_swing_deep() -> float:
    return float(_swings()[_swings()["deep"]]["foul"].mean())


@cache
def real_fastballs() -> pd.DataFrame:
    """Return the real swings at fastballs, with part of the zone; one left-handed pitcher threw them all."""
    swings = _fastball_swings(hitlab.open_pitches().table)
    swings["part"] = zone_parts(swings)
    return swings.reset_index(drop=True)


def _real_fair(part: str, *, deep: bool = False, per: str = "contact") -> float:
    swings = real_fastballs()
    swings = swings[swings["part"] == part]
    if not deep:
        swings = swings[~swings["deep"]]
    below = len(swings) if per == "swings" else (swings["fair"] | swings["foul"]).sum()
    return float(swings["fair"].sum() / below)


def by_luck(late, fouls, other_late, other_fouls, rng):  # type: ignore[no-untyped-def]
    every, tardy = fouls + other_fouls, late + other_late
    hat, gaps = np.repeat([1, 0], [tardy, every - tardy]), []
    for _ in range(2_000):
        rng.shuffle(hat)
        gaps.append(hat[:fouls].mean() - hat[fouls:].mean())
    return np.mean(np.array(gaps) >= late / fouls - other_late / other_fouls)


_DEALS = 2_000

_Pair = tuple[int, int, int, int, np.random.Generator]


def _pair_of_hitters(rng: np.random.Generator) -> _Pair:
    """Two hitters, of whom the first was late more often, by a gap that luck makes now and then."""
    fouls, other_fouls = (int(one) for one in rng.choice([36, 44, 56, 68, 84], 2, replace=False))
    other = float(rng.uniform(0.3, 0.4))
    late, other_late = round((other + rng.uniform(0.06, 0.14)) * fouls), round(other * other_fouls)
    return late, fouls, other_late, other_fouls, fresh(rng)


def _dealt(late: int, fouls: int, other_late: int, other_fouls: int, rng: np.random.Generator) -> np.ndarray:
    """Return how many of the first's fouls are late, in each deal from one hat."""
    tardy = late + other_late
    return rng.hypergeometric(tardy, fouls + other_fouls - tardy, fouls, _DEALS)


def _gaps(*pair: Any) -> tuple[np.ndarray, float]:
    late, fouls, other_late, other_fouls, _ = pair
    dealt = _dealt(*pair)
    return dealt / fouls - (late + other_late - dealt) / other_fouls, late / fouls - other_late / other_fouls


def _dealt_surely(late: int, fouls: int, other_late: int, other_fouls: int, _: np.random.Generator) -> float:
    return dealt_at_least(late, fouls, late + other_late, fouls + other_fouls)


def _either_way(*pair: Any) -> float:
    gaps, seen = _gaps(*pair)
    return float(np.mean(np.abs(gaps) >= seen - 1e-9))


def _smaller_ones(*pair: Any) -> float:
    gaps, seen = _gaps(*pair)
    return float(np.mean(gaps < seen - 1e-9))


def _each_her_own(*pair: Any) -> float:
    late, fouls, other_late, other_fouls, rng = pair
    mine, other = (rng.binomial(n, k / n, _DEALS) / n for k, n in ((late, fouls), (other_late, other_fouls)))
    return float(np.mean(mine - other >= late / fouls - other_late / other_fouls - 1e-9))


def _drawn_anew(*pair: Any) -> float:
    late, fouls, other_late, other_fouls, rng = pair
    shared = (late + other_late) / (fouls + other_fouls)
    mine, other = (rng.binomial(n, shared, _DEALS) / n for n in (fouls, other_fouls))
    return float(np.mean(mine - other >= late / fouls - other_late / other_fouls))


def _mixed_once(*pair: Any) -> float:
    late, fouls, other_late, other_fouls, rng = pair
    tardy = late + other_late
    hat = np.repeat([1, 0], [tardy, fouls + other_fouls - tardy])
    rng.shuffle(hat)
    return float(hat[:fouls].mean() - hat[fouls:].mean() >= late / fouls - other_late / other_fouls)


def beyond_the_league(his, league):  # type: ignore[no-untyped-def]
    usual = league["late"] / league["fouls"]
    expected = his["fouls"] * usual
    beyond = his["late"].sum() - expected.sum()
    return 100 * beyond / his["fouls"].sum()


def _parts_of_two(rng: np.random.Generator) -> tuple[pd.DataFrame, pd.DataFrame]:
    usual = np.sort(rng.uniform(0.25, 0.6, 3))
    places = ["elsewhere", "over the middle", "up and in"]
    all_fouls, his = rng.permutation([4_400, 1_900, 700]), np.sort(rng.integers(8, 60, 3))
    tables = (
        pd.DataFrame({"fouls": n, "late": rng.binomial(n, share)}, index=pd.Index(places, name="part"))
        for n, share in ((his, usual + 0.1), (all_fouls, usual))
    )
    mine, league = tables
    return mine, league


def _all_in_one(his: pd.DataFrame, league: pd.DataFrame) -> float:
    usual = league["late"].sum() / league["fouls"].sum()
    return float(100 * (his["late"].sum() / his["fouls"].sum() - usual))


def _parts_alike(his: pd.DataFrame, league: pd.DataFrame) -> float:
    usual = (league["late"] / league["fouls"]).mean()
    return float(100 * (his["late"].sum() / his["fouls"].sum() - usual))


def _of_the_leagues_fouls(his: pd.DataFrame, league: pd.DataFrame) -> float:
    expected = his["fouls"] * league["late"] / league["fouls"].sum()
    return float(100 * (his["late"].sum() - expected.sum()) / his["fouls"].sum())


def _per_late_foul(his: pd.DataFrame, league: pd.DataFrame) -> float:
    expected = (his["fouls"] * league["late"] / league["fouls"]).sum()
    return float(100 * (his["late"].sum() - expected) / expected)


def _verdict() -> str:
    """Whether her fouls truly go late more often than the other's."""
    table = fouls()[["hitter_id", "hitter", "late", "fouls"]]
    table = table[table["fouls"] >= LEAST_FOULS]
    return str(hitlab.check_ahead(table, THE_HITTER, THE_OTHER, event="late", per="fouls").verdict)


HERS, OTHERS = (38, 63), (37, 72)
"""The two records of the claim: late fouls of fouls with fewer than two strikes."""

_CHANCE_LATER, _LUCK_MAKES_IT = 0.74, 0.19

_FOULS = "|".join(patterns.number(many) for _, many in (HERS, OTHERS))
_LATE_ONES = "|".join(patterns.number(late) for late, _ in (HERS, OTHERS))
_OUT_OF = (
    rf"(?:{_FOULS}).{{0,30}}\b(?:foul|late|ones?\b)",
    rf"\bfoul.{{0,60}}?(?:{_FOULS})",
    rf"(?:{_LATE_ONES})(?: of| for| out of|-for-|/| in)[ -]?(?:her )?(?:{_FOULS})",
)
_HOW_SURE = (
    *patterns.DOUBT,
    *patterns.CHANCE,
    patterns.chances_in(_CHANCE_LATER),
    r"\b(?:may|might|could|seems?|looks?)\b",
    r"\b(?:luck|noise)\b",
    r"\blean",
)

_HER, _OTHER = (rf"(?:{'|'.join(patterns.name(who))})" for who in (THE_HITTER, THE_OTHER))
_HER_LATE, _OTHER_LATE = (rf"(?:{patterns.number(late)})" for late, _ in (HERS, OTHERS))
_EITHER = rf"{_HER}|{_OTHER}"
_BESIDE = r"\bthan\b|\bagainst\b|\bahead\b|\bversus\b"
_MAYBE = (
    r"\bwhether\b|\bif\b|\bwho\b|\bwhich\b|\bor\b|\bnot\b|n't\b|\bno\b|\bless\b|\bunlikely\b|\bthan\b|"
    r"\b(?:may|might|could)\b(?! well)|\bone\b|\ba quarter\b|\b2[56]\b|\bdoubt"
)
_TURNED_ROUND = (
    TooMuch(  # her name, and the other's number beside it; or the numbers first, each with the wrong name
        rf"^(?:(?!{_OTHER}|{_HER_LATE}).)*?{_HER}(?:(?!{_OTHER}|{_HER_LATE})[^:;.])*?{_OTHER_LATE}|"
        rf"^(?:(?!{_HER}|{_OTHER_LATE}).)*?{_OTHER}(?:(?!{_HER}|{_OTHER_LATE})[^:;.])*?{_HER_LATE}|"
        rf"{_OTHER_LATE}(?:(?!{_EITHER}|{_HER_LATE}|{_BESIDE})[^;]){{0,40}}? (?:for|by|from) {_HER}|"
        rf"{_HER_LATE}(?:(?!{_EITHER}|{_OTHER_LATE}|{_BESIDE})[^;]){{0,40}}? (?:for|by|from) {_OTHER}",
        "that gives one of them the other's record",
    ),
    TooMuch(
        rf"(?:{_HER_LATE})(?: of| for| out of|-for-|/| in)[ -]?(?:her )?(?:{patterns.number(OTHERS[1])})|"
        rf"(?:{_OTHER_LATE})(?: of| for| out of|-for-|/| in)[ -]?(?:her )?(?:{patterns.number(HERS[1])})",
        "that mixes the two records",
    ),
    TooMuch(
        patterns.clause_with(
            rf"{_OTHER}(?:(?!{_HER}|{_MAYBE})[^.;:,])*?"
            r"\b(?:later|latest|late more often|more often late|behind more)\b"
            r"(?![^.;:]*(?:one|1) (?:chance |time )?(?:in|out of) (?:four|4))",
            _MAYBE,
        ),
        patterns.TURNED,
    ),
    *patterns.makes_likely(rf"{_OTHER}(?:(?!{_HER}|\bthan\b)[^.;:,]){{0,30}}\blater\b"),
    *patterns.makes_unlikely(rf"{_HER}(?:(?!{_OTHER}|\bthan\b)[^.;:,]){{0,30}}\blater\b"),
    TooMuch(
        rf"(?:\b2[56](?:\.\d)? ?(?:%|per ?cent)|\b(?:one|1) (?:chance |time )?in (?:four|4)\b|\ba quarter\b)"
        rf"(?:(?!{_OTHER}|\bnot\b|n't)[^.;:,]){{0,40}}{_HER}(?:(?!{_OTHER}|\bnot\b|"
        rf"n't)[^.;:,]){{0,30}}\blater\b",
        patterns.TURNED,
    ),
    TooMuch(
        r"\b(?:fouls?|ones|balls) (?:\w+ )?early\b|\bearly (?:fouls|ones)\b|\bpull(?:ed| side)\b",
        "that tells of the early ones, and the late ones were counted",
    ),
    TooMuch(
        rf"{_HER}(?:(?!{_OTHER})[^.;:,])*?\b(?:less often late|late less often|earlier|less late)\b",
        patterns.TURNED,
    ),
    TooMuch(r"(?<!whether that )(?<!whether this )(?<!whether it )\bsettles\b", "the record leaves it open"),
    TooMuch(
        rf"(?:{_OTHER}) (?:{patterns.number(HERS[1])})|(?:{_HER}) (?:{patterns.number(OTHERS[1])})",
        "that gives one of them the other's fouls",
    ),
    patterns.turned_over(*HERS),
    patterns.turned_over(*OTHERS),
    patterns.NO_LUCK,
)
_OVERCLAIMS = (
    *_TURNED_ROUND,
    patterns.CAUSE,
    TooMuch(r"\b(?:clearly|obviously|of course|no question|plainly)\b", "the record leaves it open"),
    TooMuch(
        rf"{patterns.ASKED}(?:{_HER}) is (?:truly |really )?(?:the )?later (?:one |of the two )?"
        rf"than (?:{_OTHER})",
        "the record leaves it open",
    ),
    TooMuch(r"\b(?:the )?latest\b", "that ranks her among all, and only two were compared"),
    TooMuch(r"\b(?:9\d|ninety)(?:[- ]\w+)?(?: ?%| per ?cent)", "that is surer than these two records are"),
    TooMuch(
        r"\b(?:slow (?:bat|hands|swing|feet|reflexes)|tired|afraid|injur\w*|eyesight|her age|grip|stance)\b",
        "that gives a cause, and none was looked for",
    ),
    TooMuch(
        r"\b(?:equally (?:late|often|slow)|just as (?:late|often)|the same (?:hitter|timing|lateness)|"
        r"(?:are|is) (?:about )?the same\b(?! pitch)|no difference between)",
        "that calls them equal, and open is not equal",
    ),
    TooMuch(r"\bwill (?:be|go|foul|stay|keep|always)\b", "that foretells, and the record only counts"),
    TooMuch(r"\b(?:just|only|pure(?:ly)?|nothing but|all) luck\b", "luck may be all of it, and may not"),
)
_WELL_SAID = (
    "With 38 late fouls in 63, Tovebakk may be later on the fastball than Yorigane with 37 in 72, but "
    "that is not settled.",
    "Sixty percent of Sade's 63 fouls went to the opposite side against 51 percent of Xiomara's 72; "
    "about three chances in four that she is truly later.",
    "Whether Sade or Xiomara is later on fastballs is open: 38 of 63 fouls against 37 of 72.",
    "Of 63 fouls Sade Tovebakk sent 38 the other way, Xiomara 37 of 72, a gap that luck makes one time "
    "in five.",
    "Sade Tovebakk has gone late on 38 of 63 fouls and Xiomara Yorigane on 37 of 72, too close to call.",
    "Sade's late on 38 of 63 fouls, Xiomara on 37 of 72; Sade is probably the later of the two, but not "
    "surely.",
    "Compared with Xiomara Yorigane, Sade Tovebakk may be late more often: 38 of 63 fouls against 37 of 72.",
    "38 of 63 fouls went late for Sade, 37 of 72 for Xiomara, and there is one chance in four that Xiomara "
    "is truly the later one.",
)
_BADLY_SAID = (
    (
        "Sade Tovebakk's 38 late fouls in 63 against Xiomara Yorigane's 37 in 72: she is the later one.",
        "how sure",
    ),
    ("Sade is late on 60 percent of her fouls and Xiomara on 51 percent, so it may be luck.", "out of what"),
    (
        "Sade Tovebakk was late on 38 of 63 fouls, and that is probably more than most hitters.",
        "against whom",
    ),
    ("She was late on 38 of 63 fouls, Xiomara Yorigane on 37 of 72, and it is open who is later.", "who"),
    ("Sade is clearly later than Xiomara: 38 of 63 fouls against 37 of 72, the chance is high.", "too much"),
    (
        "Sade's 38 of 63 late fouls against Xiomara's 37 of 72 probably mean a slow bat.",
        "too much",
    ),
    ("Sade and Xiomara are equally late, 38 of 63 fouls and 37 of 72; the gap may be luck.", "too much"),
    (
        "With 38 of 63 fouls late against Xiomara's 37 of 72, Sade is probably the latest bat of all.",
        "too much",
    ),
    (
        "Xiomara Yorigane sent 38 of her 63 fouls the late way, Sade Tovebakk 37 of 72: Xiomara may well be "
        "the later one.",
        "too much",
    ),
    (
        "Sade Tovebakk sent 38 of 63 fouls late, Xiomara Yorigane 37 of 72: three chances in four that "
        "Xiomara is truly later.",
        "too much",
    ),
    ("Sade sent 12 of her 63 fouls the late way and Xiomara 60 of 72, but it is open.", "too much"),
    ("Luck is out of the question: Sade's 38 late fouls in 63 beat Xiomara's 37 of 72.", "too much"),
    (
        "38 of 63 fouls went late for Xiomara, 37 of 72 for Sade, and who is later is open.",
        "too much",
    ),
    ("Sade sent 38 of 72 fouls the late way and Xiomara 37 of 63, but it is open.", "too much"),
    ("Sade's 38 late fouls in 63 against Xiomara's 37 of 72: the gap is not luck, most likely.", "too much"),
)

_LATE_WAY = (
    r"(?:(?:hit |went |go |was |were |is )*(?:late(?: fouls)?|the late way|the other way|(?:to )?the "
    r"(?:late|opposite) side))"
)


def _many(part: int, of: int) -> str:
    return (
        rf"{part}(?: late(?: fouls| ones)?)? (?:in|of|out of|for)(?: her| the)? {of}(?: fouls| foul balls)?"
        rf"(?= (?:,|and|against|for|to|went|but|were|with|which|{_LATE_WAY}))(?: {_LATE_WAY})?"
    )


def _record(who: str, part: int, of: int) -> tuple[str, ...]:
    """Return the frames in which one of the two has her own record."""
    does = frames.fill("sent has had hit was is 's late on with at went gone fouled may might be than , she")
    return (
        rf"{who}{does} {_many(part, of)}|{_many(part, of)} (?:for|by) {who}|{part} of {who} 's {of}(?: "
        rf"fouls)?(?: {_LATE_WAY})?",
        rf"(?:of|in|on) (?:{who} 's |her )?{of}(?: fouls| foul balls)?(?: by)?(?: {who}| she| it)?{does} "
        rf"{part}(?: balls)?"
        rf"(?: {_LATE_WAY})?",
        rf"{who}{does} {round(100 * part / of)}% of(?: her)? {of}(?: fouls)?|{round(100 * part / of)}% of "
        rf"{who} 's {of} fouls",
    )


_IS_LATER = (
    rf"{frames.fill('is are the truly really still in fact would be being')} later(?: (?:one|hitter|of "
    r"the two|of them))*"
)
_FRAMES = (
    _LATE_WAY,
    *(
        rf"(?P<part>{part})(?: [a-z']+){{0,3}} (?:in|of|out of|for)(?: [a-z']+){{0,2}} (?P<of>{of})"
        for part, of in (HERS, OTHERS)
    ),
    *frames.higher_share("<a>", "<b>", "late fouls ones of foul balls"),
    rf"(?:<a>|she){frames.fill('may might could well be seems looks to')} late more often than "
    rf"<b>(?= , but| , though)",
    *_record("<a>", *HERS),
    *_record("<b>", *OTHERS),
    rf"(?:(?:with|given|at) )?{_many(*HERS)}(?: ,)? (?:against|to)(?: <b> 's| the)? {_many(*OTHERS)}|"
    rf"against {_many(*OTHERS)}",
    rf"<a>{frames.fill('well be to like is')} (?:may|might|could|seems?|"
    rf"looks?){frames.fill('well be to like the')} "
    r"(?:late more often|later)(?: one| hitter| of the two)*(?: than <b>)?",
    r"(?:looks like|looks as if|seems)(?: that)? <a> is late(?:r)?(?: more often)? than <b>|compared with "
    r"<b>|(?:sees )?than <b>",
    r"(?:who|which|whether|if|"
    rf"that){frames.fill('of the two them one these hitter <a> <b> or she')}{_IS_LATER}(?: than <b>)?",
    rf"(?:she|<a>) may (?:well )?be{_IS_LATER}|whether <a> or <b>{_IS_LATER}",
    r"(?:three (?:chances|times) (?:in|out of) 4|3 (?:chances|times) (?:in|out of) 4|74% chance|(?:three|"
    r"3) to one|chance|,)"
    rf"{frames.fill('that of there')} (?:<a>|she){_IS_LATER}(?: than "
    rf"<b>)?{frames.fill('is of about around')}(?: 74%)?",
    r"(?:does not|do not) settle|not enough to (?:say|tell|settle)|(?:that|the record) (?:is|leaves it) "
    r"open|too close to call|record|given",
    r"(?:the )?jury is out|luck alone (?:could|may) do (?:that|it)|could be luck|comparing|by foul balls|"
    r"<a> leads(?= , but)|<a> is (?:probably|likely) later than <b>|to say(?= who)",
    r"(?:so|and) <a> (?:is|may be|is probably|is likely)(?: probably| likely)? the later one|that leans "
    r"toward <a>|"
    rf"<a> was late on {HERS[0]} of her {HERS[1]} fouls and <b> on {OTHERS[0]} of {OTHERS[1]}",
    rf"<a> sent {HERS[0]} to the late side , <b> {OTHERS[0]} of {OTHERS[1]}|of {HERS[1]} fouls(?: on "
    r"fastballs)? <a> sent "
    rf"{HERS[0]}|luck alone makes such a gap about once in 5|(?:so )?who is later stays open",
    rf"<a> may be late(?: on the fastball)? more often than <b>|judging by where {HERS[1]} and {OTHERS[1]} "
    r"fouls of theirs went",
    rf"is <a> later than <b>|late fouls say {HERS[0]} of {HERS[1]} against {OTHERS[0]} of {OTHERS[1]}|"
    r"we would give it(?: only)?(?: about)? 3 chances in 4",
    r"<a> 's fouls go late more often than <b> 's|that she is(?: truly| really)? later is (?:just|only|"
    r"about) 74%|"
    rf"<a> may be later than <b> , who has {OTHERS[0]} in {OTHERS[1]}|(?:we can|can) not be sure",
    frames.MAY_BE_LUCK,
    rf"(?:it )?looks as if <a>|<a> , late on {HERS[0]} of(?: her)? {HERS[1]} fouls , is(?: probably| "
    r"likely)? later than <b> , "
    rf"late on {OTHERS[0]} of(?: her)? {OTHERS[1]}(?: fouls)?",
    r"that <a> is(?: truly| really)? the later(?: (?:one|hitter|of the two))? is(?: (?:about|only|roughly|"
    r"just))* 3 (?:in|out of) "
    r"4",
)
"""Frames of its sentence, with its numbers."""

EXERCISES = (
    Exercise(
        "09.one-hat",
        "write",
        Code(by_luck, _pair_of_hitters, tolerance=0.04, cases=4, surely=_dealt_surely),
        (
            Wrong(
                _either_way,
                "you counted gaps of either sign. Asked is how often the *first* comes out that far ahead.",
            ),
            Wrong(
                _smaller_ones, "those are the deals with a smaller gap. Asked are the ones at least as large."
            ),
            Wrong(
                _each_her_own,
                "you drew each hitter with a rate of her own, so the gap is there before luck begins. In one "
                "hat nobody knows whose foul it was.",
            ),
            Wrong(
                _drawn_anew,
                "you drew new fouls at the shared rate, and the hat then holds more or fewer late ones each "
                "time. Deal the fouls that there are.",
            ),
            Wrong(
                _mixed_once,
                "you mixed once, so that every deal is the same one. Mix again before each deal.",
            ),
        ),
        (
            "np.repeat([1, 0], [all late ones, all others]) is the hat. After rng.shuffle(hat) the first "
            "gets hat[:fouls], the other hat[fouls:].",
            "gaps.append(hat[:fouls].mean() - hat[fouls:].mean()) in a loop; at the end the mean of "
            "np.array(gaps) >= the gap of the two shares that were seen.",
        ),
        "Mix all fouls of both, deal them again, and see how often the first comes out at least as far "
        "ahead.",
        "so large a gap luck makes so often. What it makes easily settles nothing, either way.",
        minutes=6,
    ),
    Exercise(
        "09.the-fast-ones",
        "predict",
        Bounds(lambda: _late_per_hundred(True), widest=12, per_cent=True),
        (
            Wrong(
                (33, 41),
                "that would be about the same as at all speeds. What does a faster pitch leave less of?",
                when=lambda ends: 33 <= ends[1] < _late_per_hundred(True),
            ),
            Wrong(
                (15, 25),
                "that would be fewer than at all speeds: late less often with less time.",
                when=lambda ends: ends[1] < 33,
            ),
            Wrong(
                (75, 85),
                "so many? Hitters in this league know that the pitch may be fast; many are on time or early "
                "even then.",
                when=lambda ends: ends[0] > _late_per_hundred(True),
            ),
        ),
        (
            "A faster pitch leaves less time, so more bats are late than at all speeds together.",
            "It is a little less than half.",
        ),
        lambda: (
            f"Of the fouls on fastballs of {FAST_MPH:.0f} miles an hour or more "
            f"{percent(_late_per_hundred(True) / 100)} went to the opposite side, of those on slower ones "
            f"{percent(_late_per_hundred(False) / 100)}."
        ),
        "the faster the pitch, the later the bat: what you see in the side of the fouls is time.",
        minutes=3,
    ),
    Exercise(
        "09.out-of-what",
        "denominator",
        Choice(
            "c",
            {
                "a": "her swings at fastballs",
                "b": "the fastballs that she touched",
                "c": "her fouls whose side was written down",
                "d": "all her fouls, with a side or without",
            },
        ),
        (
            Wrong("a", "then she looks less late when she misses more. A whiff has no side."),
            Wrong("b", "then she looks less late when more stay fair. The question begins at the foul."),
            Wrong(
                "d",
                "a foul without a side is neither late nor not late: it would count as not late in silence.",
            ),
        ),
        (
            "What follows 'when she fouls one off' goes below the line.",
            "And what nobody wrote down cannot answer.",
        ),
        "The question starts with a foul, and only those whose side is known can say late or not late.",
        "what you do not know belongs neither above nor below the line; say how much of it there is.",
        minutes=2,
    ),
    Exercise(
        "09.two-strikes",
        "compute",
        Number(lambda: _foul_share(True), tolerance=0.0015, share=True),
        (
            Wrong(lambda: _foul_share(False), "that is with fewer than two strikes."),
            Wrong(lambda: _foul_share(None), "that is both together; the question is about two strikes."),
            Wrong(lambda: 1 - _foul_share(True), "that is the fair share. Asked is the share of fouls."),
            Wrong(_fouls_per_swing_deep, "that is out of all swings; a whiff is no contact."),
        ),
        (
            "Contact is fouls and fair balls. The two columns for two strikes count both.",
            'Add up parts["two_strike_fouls"] and divide by the sum of parts["two_strike_contact"].',
        ),
        lambda: (
            f"With two strikes {rate_text(_foul_share(True))} of the contact goes foul, with fewer "
            f"{rate_text(_foul_share(False))}."
        ),
        "with two strikes a foul keeps the turn at bat alive. Part of it is meant, so it is counted apart.",
        minutes=4,
        core=False,
    ),
    Exercise(
        "09.look-at-the-whiffs",
        "fault",
        Choice(
            "b",
            {
                "a": "her whiffs are too few to tell her from the rest of the league",
                "b": "a miss has no side: late, early, over and under the ball all look alike",
                "c": "one miss in three swings is no more than other hitters of the league have",
                "d": "nothing is wrong: who swings through that many fastballs gets there too late",
            },
        ),
        (
            Wrong(
                "a", "she misses far more than the league does, and by more than luck. That is not the fault."
            ),
            Wrong("c", "the league misses about one swing in five at a fastball. She does miss more."),
            Wrong("d", "one can miss early, over it, and under it. Look where her fouls went."),
        ),
        (
            "How would you know from a whiff that the bat was late, and not above the ball?",
            "Compare the sides of her fouls with the league's.",
        ),
        lambda: (
            f"A whiff has no direction. Her fouls have: {_row(THE_MISSER)['late']} of "
            f"{_row(THE_MISSER)['fouls']} went late, {percent(_of(THE_MISSER, 'late', 'fouls'))}, just like "
            "the league's. She misses a lot, and nothing here says that time is the reason."
        ),
        "she misses; why she misses is another question, and the fouls do not say late.",
        minutes=4,
    ),
    Exercise(
        "09.same-pitches",
        "complete",
        Code(beyond_the_league, _parts_of_two, tolerance=0.05),
        (
            Wrong(
                _all_in_one,
                "you put all parts of the zone into one. Then whoever is thrown more of the hard ones "
                "looks late.",
            ),
            Wrong(
                _parts_alike,
                "you averaged the parts as if he had as many fouls in each. Weigh each with his own "
                "fouls there.",
            ),
            Wrong(
                _of_the_leagues_fouls,
                "you divided by the fouls of all parts together. In each part the usual share is out of the "
                "fouls there.",
            ),
            Wrong(
                _per_late_foul,
                "that is for each hundred late fouls expected. Asked is for each hundred fouls.",
            ),
        ),
        (
            "usual is a column, one share a part of the zone: late fouls of the league there, out of its "
            "fouls there.",
            'The second gap is his["fouls"]; the third sums up his late fouls, the last his fouls.',
        ),
        "Part by part the league's share times his fouls, added up; what he has more, out of his own fouls.",
        "now it is the hitter that is compared, and not what he was thrown.",
        minutes=5,
    ),
    Exercise(
        "09.the-bus",
        "transfer",
        Number(18 / 20, tolerance=0.005, share=True),
        (
            Wrong(0.18, "that is out of all its trips; asked is out of those off the timetable."),
            Wrong(0.20, "that is how many were off the timetable. Asked is how many of these were late."),
            Wrong(0.80, "that is the share on time, which both lines have."),
            Wrong(0.10, "those are the ones that came too soon."),
            Wrong(0.50, "that is the other line."),
            Wrong(18 / 80, "late ones over those on time: two different lots."),
        ),
        (
            "How many trips of line A were off the timetable?",
            "20 were; and how many of these were late?",
        ),
        "18 of 20 is .900, against 10 of 20 for line B. Both are on time equally often, and need opposite "
        "mending: A has to be quicker, B steadier.",
        "how often it goes wrong and which way it goes wrong are two numbers.",
        minutes=3,
    ),
    Exercise(
        "09.real-middle",
        "compute",
        Number(lambda: _real_fair("over the middle"), tolerance=0.006, share=True),
        (
            Wrong(lambda: _real_fair("elsewhere"), "that is elsewhere in the zone and around it."),
            Wrong(lambda: _real_fair("up and in"), "that is up and in."),
            Wrong(
                lambda: _real_fair("over the middle", deep=True),
                "that has the swings with two strikes in it. Take them out first.",
            ),
            Wrong(
                lambda: _real_fair("over the middle", per="swings"),
                "that is out of all swings; asked is out of contact.",
            ),
            Wrong(lambda: 1 - _real_fair("over the middle"), "that is the share of fouls."),
        ),
        (
            "Keep the rows over the middle with fewer than two strikes, then fair over contact.",
            'chosen = real[(real["part"] == "over the middle") & ~real["deep"]]; then the sum of '
            'chosen["fair"] over that of fair and foul.',
        ),
        lambda: (
            f"Over the middle {rate_text(_real_fair('over the middle'))} of the contact stayed fair, up and "
            f"in {rate_text(_real_fair('up and in'))}."
        ),
        "real hitters, real pitches, and still one pitcher's: it says where, not who.",
        minutes=5,
        core=False,
    ),
    Exercise(
        "09.for-air",
        "say",
        Sentence(
            (
                Point("who", "the hitter of whom it is said", patterns.name(THE_HITTER)),
                Point("against whom", "the other hitter", patterns.name(THE_OTHER)),
                Point(
                    "what",
                    "what was counted: late fouls",
                    (
                        r"\blate(?:r|ly|ness)?\b",
                        r"\b(?:opposite|other|wrong|far) (?:side|way|field)",
                        r"\bbehind (?:the|it|on)\b",
                    ),
                ),
                Point("out of what", "the fouls of at least one of them, with their number", _OUT_OF),
                Point("how sure", "a chance, or that it is open which of the two is later", _HOW_SURE),
            ),
            f"Sade Tovebakk sent {HERS[0]} of her {HERS[1]} fouls the late way, Xiomara Yorigane "
            f"{OTHERS[0]} of {OTHERS[1]}: she may well be the later one, about three chances in four, but "
            "that is open.",
            people=(THE_HITTER, THE_OTHER),
            frames=_FRAMES,
            phrases=(
                "74%",
                "a 74% chance",
                "63 and 72 fouls",
                "3 times in 4",
                "72",
                "37",
                "63",
                "38",
                "3 to one",
                "37 late fouls",
                "38 late fouls",
                "once in 5",
                "one in 5",
                "one in 4",
                "60% of 63",
                "51% of 72",
                "who is later is open",
                "the chance that Sade is later is 74%",
                "Sade is probably later than Xiomara",
                "a 74% chance that Sade is later than Xiomara",
                "late on 60% of 63",
                "Xiomara on 51% of 72",
                "three to one that Sade is later",
                "luck could do that",
                "three times in four Sade would be later",
                "Sade may be late more often than Xiomara",
                "Sade is probably later",
                "it is open which of them is later, she or Xiomara",
                "it is open which is the later one",
                "it is open which of them is the later of them, she or Xiomara's",
                "it can still be luck",
                "which of them is later is open, she or Xiomara",
                "of Xiomara's 72",
                "Xiomara 37, and it is open",
            ),
            figures=(*HERS, *OTHERS, HERS[0] / HERS[1], OTHERS[0] / OTHERS[1], _CHANCE_LATER, _LUCK_MAKES_IT),
            too_much=_OVERCLAIMS,
            good=_WELL_SAID,
            bad=_BADLY_SAID,
        ),
        (),
        (
            "Both records first, as they are: so many of so many fouls. Then how far they settle it.",
            "For instance: so many of her fouls went the late way, so many of the other's; which of the "
            "two is later ...",
        ),
        "Both records in full, and that which of the two is later stays open: no cause, no promise, no rank.",
        "nobody has to take that back when the next fifty fouls come in.",
        minutes=4,
    ),
)


def _again_way(rng: np.random.Generator) -> tuple[str, Exercise]:
    pairs = ((6, 10), (7, 10), (8, 10), (12, 20), (13, 20), (14, 20), (15, 20), (18, 20))
    late, off = pairs[int(rng.integers(len(pairs)))]
    who, it, of_what, wrong_way, right_way = (
        ("A goalkeeper", "she", "shots", "dived too late", "dived too soon"),
        ("A bus", "it", "trips", "came late", "came too soon"),
        ("A drummer", "he", "beats", "came in behind the beat", "came in ahead of it"),
    )[int(rng.integers(3))]
    share = late / off
    return (
        f"{who} was off in {off} of 100 {of_what}: {late} times {it} {wrong_way}, {off - late} times {it} "
        f"{right_way}. What share of the {of_what} that were off is of the first sort ({wrong_way})? "
        f"From 0 to 1, two "
        "decimals.",
        Exercise(
            "09.again-which-way",
            "compute",
            Number(share, tolerance=0.01, share=True),
            (
                Wrong(late / 100, "that is out of all hundred. Asked is out of those that were off."),
                Wrong(1 - share, "that is the other direction."),
                Wrong(1 - off / 100, "that is how often it was on time; it says nothing of the direction."),
            ),
            ("Below the line stand only those that were off.", f"{late} of {off}."),
            f"{late} / {off} is {share:.2f}.",
            "how often it goes wrong is one number, which way it goes wrong another.",
            minutes=1,
        ),
    )


def _dealt_as_far(k: int, n: int, j: int, m: int) -> float:
    """Return the share of deals from one hat in which the first gets ``k`` or more of its ``n``."""
    every = k + j
    ways = sum(comb(n, one) * comb(m, every - one) for one in range(k, min(n, every) + 1))
    return ways / comb(n + m, every)


def _again_gap(rng: np.random.Generator) -> tuple[str, Exercise]:
    one, other, what, more = (
        ("Ann", "Bea", "serves", "misses long"),
        ("The red line", "the blue line", "trips", "is late"),
        ("The old mould", "the new mould", "cups", "leaves a crack"),
    )[int(rng.integers(3))]
    n, m = (int(x) for x in rng.choice([50, 60, 70, 80], 2, replace=False))
    settled = bool(rng.integers(2))
    first, second = (0.72, 0.36) if settled else (0.5, 0.42)
    k, j = round(first * n), round(second * m)
    deals = round(100 * _dealt_as_far(k, n, j, m))
    often = f"{deals} deals in 100" if deals else "fewer than 1 deal in 100"
    right = "a" if settled else "c"
    why = {
        "a": f"{often} made as large a gap: that is not hardly ever.",
        "b": "that luck could do it does not show that it did. No gap was not shown either."
        if not settled
        else "equal ones would hardly ever lie so far apart.",
        "c": f"luck alone makes it in {often}, and that is hardly ever.",
        "d": "the hat supposes that both are equal and asks how often luck does this. It does not "
        "give the chance that they differ.",
    }
    return (
        f"{one} {more} in {k} of {n} {what}, {other} in {j} of {m}. All in one hat and dealt again, "
        f"{often} {'show' if deals else 'shows'} a gap as large or larger. Which of the two truly does it "
        f"more often?",
        Exercise(
            "09.again-which-is-later",
            "fault",
            Choice(
                right,
                {
                    "a": f"most likely {_inside(one)}: luck alone hardly ever makes such a gap",
                    "b": "neither: luck makes such a gap, so the two do it equally often",
                    "c": "that is open: such a gap may be a true one, and luck alone makes it quite often",
                    "d": f"{_inside(one)}, with "
                    + ("more than 99" if settled else f"{100 - deals}")
                    + " chances in 100: all deals but those that went that far",
                },
            ),
            others(why, right),
            (
                "What would settle it: a gap that luck makes often, or one that it hardly makes?",
                f"Luck alone makes this one in {often}.",
            ),
            "A gap that luck hardly ever makes is most likely a true one."
            if settled
            else "A gap that luck makes so often settles nothing: neither a difference nor that there is "
            "none.",
            "how often luck alone does it says whether a gap settles anything; where it does not, open is an "
            "answer, and it is not 'equal'.",
            minutes=1,
        ),
    )


def _inside(who: str) -> str:
    """Return somebody or something as it stands inside a sentence."""
    return who[0].lower() + who[1:] if who.startswith("The ") else who


LESSON = Lesson(
    "09",
    "Be ready for the fastball",
    _verdict,
    f"She is late, but whether she is later than the other late one, {HERS[0]} of {HERS[1]} against "
    f"{OTHERS[0]} of {OTHERS[1]} do not settle: about three chances in four.",
    EXERCISES,
    (Again("09.again-which-way", _again_way), Again("09.again-which-is-later", _again_gap)),
)
