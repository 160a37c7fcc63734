"""A sentence with marks in the place of all that the soft tables know, each slot looked for on its own."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import Any

from hitlab.asking.colloquial import restore_g
from hitlab.asking.numbers import MONTHS, take_counts, take_days, take_places, take_shares, whole
from hitlab.asking.people import Known
from hitlab.asking.phrases import vocabulary
from hitlab.asking.phrases_rates import CHASES, TAKES
from hitlab.asking.phrases_situations import HANDS
from hitlab.asking.risk import plain_word
from hitlab.asking.sides import put_sides_plainly
from hitlab.asking.slots import mark_names
from hitlab.asking.soft_cues import CUES, LATER_CUES, SITUATION
from hitlab.asking.soft_idioms import IDIOMS
from hitlab.asking.soft_rates import PER, RATE, RATE_APART
from hitlab.asking.spans import halves, put_days_plainly
from hitlab.asking.text import Text, Word, slip_of
from hitlab.spoken import ONES, TENS

__all__ = ["TALK", "marked"]

_EARLY = next(n for n, row in enumerate(CUES) if row[1] == "more")
_CHASING = [row for row in RATE if row[1] == (CHASES,)]
_WORDS = vocabulary()
_NOUNS = (
    *(
        "league",
        "average",
        "season",
        "percent",
        "pitcher",
        "pitchers",
        "hitter",
        "hitters",
        "batter",
        "batters",
    ),
    *("runner", "runners", "fastball", "fastballs", "slider", "sliders", "curveball", "curveballs"),
    *(
        "changeup",
        "changeups",
        "breaking",
        "contact",
        "strikeout",
        "strikeouts",
        "homers",
        "inning",
        "innings",
    ),
    *("lefties", "righties", "swings", "whiffs", "strikes"),
)
"""Words of the trade that no other word of the language is nearly."""
TALK = frozenset(
    word
    for table in (CUES, LATER_CUES, SITUATION, RATE, RATE_APART, PER, IDIOMS)
    for row in table
    for word in re.findall(r"[a-z]{4,}", row[0])
)
"""Words of the soft tables, which are no slip in a name: lumber."""
_FUZZY = 85  # how alike a word and a part of a name have to be to be taken for it, of 100
_MONTH = "|".join(MONTHS)
_PART = r"(?:about |around )?(?:(?:the )?(?:\w+ ){0,2}of |mid |middle |late |early )?"
_CHANGED = re.compile(
    r" (?:stop\w*|quit\w*|start\w*|began|begun|beg[iu]n\w*|chang\w*|turned (?:it|things) around|"
    r"pick\w* (?:it )?up|tick\w* up|perk\w* up|"
    r"dropped|went (?:up|down)|woke|dried up|took off) "
)
"""What happens on a day, so that a day that is told is when it began."""
_TENTHS = "|".join(TENS)
_ONE_NINE = "|".join(ONES[:9])
_SHORT = (
    (r"(?:(?:does|do|did|is|has) )?not (?:just|only|merely|simply)", ""),
    (r"lh[hb]s?", "left handed hitters"),
    (r"rh[hb]s?", "right handed hitters"),
    (r"lhps?", "left handed pitchers"),
    (r"rhps?", "right handed pitchers"),
    (r"w|wit", "with"),
    (r"(?:rn|atm)", "lately"),
    (r"gimme", "give me"),
    (r"n(?= (?:second|third|2nd|3rd) )", "and"),
    (r"(?:,? )?(?:is|are|does|do|did|has|have|can|was) not (?:he|she|it|they)(?= [,.?!]| ?$)", ""),
    (
        r"p ,? ?(hard|whiffs?|hits?|contact|swings?|takes?|fouls?|walks?|strikeouts?)(?: hit)? ,? ?"
        r"(?:given )?(?:in play|on contact)(?: ,)?(?= )",
        r"\1 hit rate per ball in play",
    ),
)
"""What is typed in a hurry."""


def marked(sentence: str, known: Known) -> Text:
    """Return a sentence with its marks; names stay where they stand."""
    t = _Marked.of(sentence)
    mark_names(t, known)
    _mark_slips(t, known)
    _mend_words(t)
    if {"nobody", "none", "no"} & {word.text for word in t.words}:
        for word, behind in pairwise(t.words):
            if (word.text, behind.text) == ("like", "<who>"):
                word.text = "than"  # "Nobody misses bats like her."
    _read(t, known)
    return t


class _Marked(Text):
    """A text in which names stay where they stand, whatever is taken around them."""

    __slots__ = ()

    def _replace(self, spans: list[tuple[int, int]], mark: str, value: Any) -> None:
        names = [word for word in self.words if word.text == "<who>"]
        super()._replace(spans, mark, value)
        if sum(word.text == "<who>" for word in self.words) < len(names):
            kept = [word for word in names if not any(word is one for one in self.words)]
            self.words = sorted((*self.words, *kept), key=lambda word: word.at)


def _read(t: Text, known: Known) -> None:
    """Put marks in the place of all that the tables know."""
    restore_g(t)
    halves(t, known.days)
    put_days_plainly(t)
    put_sides_plainly(t)
    t.reword_all(IDIOMS)
    if _CHANGED.search(t.line()) and not re.search(" (?:since|until|till|before|than) ", t.line()):
        t.reword(rf"(?:around|about|roughly|in|at|on|by|back in) (?={_PART}(?:\d|{_MONTH}))", "since ")
    t.take(
        r"(?:get|gets|getting|got)(?= hit (?:hard|less|more))|(?:allow\w*|giv\w* up|surrender\w*|induc\w*|"
        r"generat\w*|serv\w* up|yield\w*|"
        r"(?:on|toes?|toeing|climbs?) the (?:mound|hill|bump|slab|rubber)|pitching|throwing|pitches to)(?= )",
        "pitching",
    )
    t.reword(r"(?:nobody|no one|none|no|0) (?:outs?|away|down)(?= )", "no outs")
    t.reword(
        r"(?:nobody|no one|none|no runners|no men) (?:is |are )?(?:on|aboard)(?! (?:the|this|that|my|our|"
        r"his|her|a|any|<who>) )(?= )",
        "bases empty",
    )
    t.reword(
        r"give or take(?! (?:\d|a|one|two|three|five))|(?:hot|spicy|bold|my) take|set your watch(?= )|"
        r"set (?:his|her|a) watch|bar none|hands down",
        "",
    )
    t.reword(r"you could by(?= <who>)|you can by(?= <who>)", "steady")
    t.reword(r"second to none", "number one")
    t.reword(r"some percent|odd percent", "percent")
    t.reword(rf"(?:after|from) (?=(?:the )?(?:\d\d?(?:st|nd|rd|th)? (?:of )?)?(?:{_MONTH}) )", "since ")
    t.reword(rf"before (?=(?:the )?(?:\d\d?(?:st|nd|rd|th)? (?:of )?)?(?:{_MONTH}) \d)", "before , since ")
    t.reword(
        r"since (?:the |calendar |page |said |says |read |reads |flipped |turned |rolled |switched |"
        r"changed |over |to |into |we |"
        rf"hit )+(?=(?:{_MONTH}) )",
        "since ",
    )
    t.reword(
        r"since (?:(?!the |late |mid |early |middle |end |start |beginning |"
        rf"of |(?:{_MONTH}) )[a-z]+ ){{1,4}}(?=(?:{_MONTH}) )",
        "since ",
    )
    t.reword(r"half (?:a )?dozen", "six")
    t.reword(r"thru", "through")
    t.reword(
        r"(below|under|above|beats) (?:everybody|everyone|all the others|the others)(?: else)?",
        r"\1 "
        r"the league",
    )
    t.reword(r"neither(?= <who> nor <who>)", "not")
    for typed, meant in _SHORT:
        t.reword(typed, meant)
    for n, balls in enumerate(("(?:oh|zero|no|0)", "(?:one|1)", "(?:two|2)", "(?:three|3)")):
        for k, strikes in enumerate(("(?:oh|zero|no|nothing|0)", "(?:one|1)", "(?:two|2)")):
            t.reword(
                rf"{balls} balls? (?:and )?{strikes} strikes?|{balls} and {strikes}(?= (?:[,.?!<]|counts?|"
                r"pitch|he|she)| $)",
                f"{n}-{k}",
            )
    t.reword(r"dozen", "twelve")
    t.reword(r"pct", "percent")
    t.reword(r"every other pitch", "half the pitches")
    t.reword(r"(one|two|1|2|no|nobody) (?:gone|dead|retired)", r"\1 outs")
    t.reword(r"(?:standing|parked|perched|sitting|dancing|leading off) on (?=first|second|third)", "on ")
    for pattern, rates in RATE_APART:
        t.take(pattern, "rate", rates)
    t.take(
        r"(make|makes|get|gets|fool|fools) <who> (?:to )?(miss|whiff|swing and miss|swing through one|"
        r"badly)",
        "after",
    )
    t.reword(
        r"(?:through|all through|for|throughout|over) (?:the )?(?:whole |"
        rf"entire )?(?:month of )?(?=(?:{_MONTH}) )",
        "in ",
    )
    t.reword(r"(left|right)hand(ed|ers?|er)", r"\1 hand\2")
    take_days(t, known.days)
    for pattern, mark, value in CUES[:_EARLY]:
        if mark in ("after", "learns", "spot", "ninth"):
            t.take(pattern, mark, value)
    t.reword(r"(?:a )?(\d\d\d)(?= (?:hitter|bat|clip|with|against|since|on|this)|(?: [,.?!])| $)", r"0.\1")
    t.take(
        r"(half|a third|a quarter|two thirds|three quarters)(?= (?:his|her|their|the|those|that|all|what|"
        r"everything|swings|pitches) )|"
        r"(?:(?<=under )|(?<=below )|(?<=least )|(?<=almost )|(?<=nearly )|(?<=close to ))(?:a )?(half|"
        r"third|quarter)(?= )",
        "value",
        lambda m: {
            "half": 0.5,
            "a third": 1 / 3,
            "a quarter": 0.25,
            "third": 1 / 3,
            "quarter": 0.25,
            "two thirds": 2 / 3,
            "three quarters": 0.75,
        }[m[1] or m[2]],
    )
    take_places(t)
    t.take(
        r"(?P<n>two|three|four|five|six|\d)(?= (?:other )?(?:hitters|guys|people|players|batters|pitchers|"
        r"clubs|teams) [^?!]* than (?:the )?<who> )",
        "onlyn",
        lambda m: whole(m["n"]),
    )
    _take_bare_speeds(t)
    _take_bare_numbers(t)
    take_shares(t)
    for pattern, mark, value in CUES[:_EARLY]:
        if mark in ("after", "learns", "spot", "ninth"):
            continue
        if mark in ("top", "bottom"):
            t.take(pattern, mark, lambda m: whole(m["n"]))
        else:
            t.take(pattern, mark, value)
    for pattern, rates in _CHASING:
        t.take(pattern, "rate", rates)
    for pattern, terms in SITUATION[:1]:
        t.take(pattern, "in", terms)
    take_counts(t)
    t.take(
        r"(?:with |on |at |down |has |to )(?P<n>three|two|one|3|2|1) balls?(?= (?:[,.?!<]|on|and|than|he|"
        r"she|more|less)| $)",
        "in",
        lambda m: (f"balls={whole(m['n'])}",),
    )
    for pattern, terms in SITUATION[1:]:
        t.take(pattern, "in", terms)
    take_shares(t)
    for pattern, column, side in HANDS:
        t.take(pattern, "hand", (column, side))
    for pattern, per in PER:
        t.take(pattern, "per", per)
    for pattern, rates in RATE:
        t.take(pattern, "rate", rates)
    if (TAKES,) in t.values("rate"):
        t.take(r"(?:called )?strikes?", "in", ("in the zone",))
    for pattern, mark, value in CUES[_EARLY:]:
        t.take(pattern, mark, value)
    for pattern, mark, value in LATER_CUES:
        t.take(pattern, mark, value)


def _mend_words(t: Text) -> None:
    """Put words of the trade in the place of those from which one slip of a finger parts them."""
    for word in t.words:
        if not word.text.isalpha() or len(word.text) < 5 or word.text in _WORDS or plain_word(word.text):
            continue
        meant = slip_of(word.text, _NOUNS)
        if meant:
            t.respell(word, meant)


def _share(top: str, below: str) -> float | None:
    """Return one number out of a larger one, as "three whiffs every ten cuts" has them."""
    one, other = (100 if told in ("hundred", "a hundred") else whole(told) or 0 for told in (top, below))
    return one / other if 0 < one < other and other > 2 else None


def _take_bare_speeds(t: Text) -> None:
    """Take a number that is a speed rather than a share of so many: "hits it hard over 95"."""
    if re.search(" (?:rate|percentage|percent|average|time|times|points) ", t.line()):
        return
    t.take(
        r"(?:(?:on|at|against|off) )?(?:anything |stuff |pitches |heat |velo )?(?:over|above|north of|past|"
        r"beyond) (?P<n>8[5-9]|9\d|10[0-5])(?= (?!of |in |out |swings|pitches|at bats|\d)| $)",
        "in",
        lambda m: (f"speed_mph>={m['n']}",),
    )


def _take_bare_numbers(t: Text) -> None:
    """Take numbers that leave out what they are: "batting under two fifty", "swing% over thirty"."""
    t.take(
        rf"(?P<a>one|two|three|four) (?P<b>hundred|oh (?:{_ONE_NINE})|(?:{_TENTHS})(?: (?:{_ONE_NINE}))?)"
        r"(?= (?:[,.?!<]|hitter|with|against|since|on|this|from|off|in|for|when|clip|i|so|right|they|"
        r"you|is|are|does|has|or|and|but)| $)",
        "average",
        lambda m: (
            (
                100 * (whole(m["a"]) or 0)
                + (0 if m["b"] == "hundred" else whole(m["b"].removeprefix("oh ")) or 0)
            )
            / 1000
        ),
    )
    number = rf"(?:\d+|(?:{_TENTHS})(?: (?:{_ONE_NINE}))?|{'|'.join((*reversed(ONES),))}|hundred|a hundred)"
    t.take(
        rf"(?P<a>{number})(?=(?: (?!strikes|outs|balls)[^ ,.;<]+){{0,3}}(?: <[a-z]+>)? "
        rf"(?:in|out of|of|every|per|for every) (?:every |each )?(?P<b>{number}) (?!strikes|outs|innings))",
        "value",
        lambda m: _share(m["a"], m["b"]),
    )
    t.reword(
        r"(over|under|above|below|about|around|near|than|least|roughly|nearly|almost|hits|at) (\d\d|"
        rf"(?:{_TENTHS})(?: (?:{_ONE_NINE}))?)"
        r"(?= (?:[,.?!]|with|against|since|on|this|from|off|in|for|when)| $)",
        r"\1 \2 percent",
    )


def _mark_slips(t: Text, known: Known) -> None:
    """Take words that are nearly a part of a name, and of no other word, for that name."""
    from rapidfuzz import fuzz, process

    choices = sorted(known.words)
    for place, word in enumerate(t.words):
        if word.text.startswith("<") or len(word.text) < 5 or word.text in _WORDS or not word.text.isalpha():
            continue
        near = process.extractOne(word.text, choices, scorer=fuzz.ratio, score_cutoff=_FUZZY)
        if near is None or near[0][0] != word.text[0]:
            continue
        people = tuple(known.find(near[0]))
        if people:
            t.words = [*t.words[:place], Word("<who>", word.at, people), *t.words[place + 1 :]]
    for first, second in pairwise(t.words):
        if first.text == second.text == "<who>":
            both = tuple(one for one in first.value if one in second.value)
            if both:
                t.words = [word for word in t.words if word is not second]
                first.value, first.span = both, (*first.places, *second.places)
                break
