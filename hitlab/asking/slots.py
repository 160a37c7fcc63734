"""From a sentence to its slots: the steps in which the phrases of the tables are found, in their order."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations

from hitlab.asking import limits, phrases, phrases_rates, phrases_situations
from hitlab.asking.numbers import take_counts, take_days, take_places, take_shares
from hitlab.asking.people import Known, Person
from hitlab.asking.risk import take_lead
from hitlab.asking.text import GAP, Text, Word
from hitlab.asking.wordings import reword, reword_dated
from hitlab.counting.situations import Situation, situation
from hitlab.errors import ClaimError

__all__ = [
    "Slots",
    "going_together",
    "hand_term",
    "limit_of",
    "mark_names",
    "not_together",
    "of_bases",
    "people_of",
    "read_slots",
]

_PITCHING = re.compile(
    r" (?:gets?|getting|induces?|generates?|draws?|allows?|gives? up|surrenders?) "
    rf"{GAP}(?:whiffs?|swings and misses|misses|chases|hard contact|hit hard) "
    r"| (?:allow(?:s|ed|ing)?|(?:gives?|giving|gave|given) up|surrender(?:s|ed)?|induc(?:es?|ed|ing)) "
    rf"| (?<!two )(?<!2 )(?:strikes?|struck|walk(?:s|ed)?|fan(?:s|ned)) (?:out )?{GAP}(?:hitters|batters) "
    r"| <who> (?:pitching|throwing) "
    r"| miss(?:es)? (?:more |the most )?bats "
)
"""What is said of somebody who pitches."""
_PITCHER = re.compile(r"(?<!handed) pitchers? ")

_SEES = r"(?:sees?|saw|faces?|faced|gets?|got|is thrown|was thrown|has (?:seen|faced|gotten|been thrown))"
_TOLD_TO = (
    r"i (?:would |will |can )?(?:show|tell|say|shout|swear|repeat|teach|sing|send) (?:it|that|this|so) to "
    r"(?:(?:the|my|his|her|any|every|all) )*[a-z]+(?=(?: [,.;:!?])| $)"
)
"""To whom somebody would say it, which is no situation: "I'd tell that to lefties"."""
_NEVER = r"can not|could not|never|does not|do not|can never"
_HEDGES = r"(?:more|less) or (?:more|less)|perhaps|maybe|probably|likely|surely|certainly|definitely"


@dataclass(slots=True)
class Slots:
    """What was found in a sentence.

    Attributes
    ----------
    text
        The sentence with its marks; what is left as a word and is no filler played no part.
    limit
        Why it cannot be asked of a table of pitches; empty where nothing speaks against it.
    bare
        Whether somebody is spoken of who is not named.
    many
        Whether hitters are spoken of as a group.
    all_hitters
        Whether that group is just hitters, all of them.
    pitching
        Whether something is said that is said of pitchers, or somebody is called one.
    allowing
        Whether it is something that is done to hitters: allowing contact, striking somebody out.
    aside
        Who says it, in front of the claim: left out.
    """

    text: Text
    limit: str = ""
    bare: bool = False
    many: bool = False
    all_hitters: bool = False
    pitching: bool = False
    allowing: bool = False
    aside: str = ""

    @property
    def strange(self) -> list[Word]:
        """The words that nothing explains."""
        return [
            word
            for word in self.text.words
            if not word.text.startswith("<") and word.text not in phrases.FILLERS
        ]


def read_slots(text: Text, known: Known) -> Slots:
    """Find the slots of a sentence; the text is used up."""
    slots = Slots(text)
    mark_names(text, known)
    text.leave(_TOLD_TO)
    reword(text)
    slots.aside = take_lead(text)
    line = text.line()
    slots.bare = any(f" {word} " in line for word in phrases.BARE)
    slots.many = any(f" {word} " in line for word in ("hitters", "batters", "guys", "they", "players"))
    slots.all_hitters = re.match(" (?:do |did )?(?:hitters|batters) ", line) is not None
    slots.allowing = _PITCHING.search(line) is not None
    slots.pitching = slots.allowing or _PITCHER.search(line) is not None
    take_days(text, known.days)
    reword_dated(text)
    text.take(rf"(?<!pitches )(?:that )?(?:he|she|they|<who>) {_SEES}(?=(?: [,.?!])| $)", "seen")
    for pattern in phrases.SETTING_ASIDE:
        text.take(pattern)
    text.take(_HEDGES)
    for pattern, mark in phrases.SPOTS:
        if mark == "lasthalf":
            text.take(pattern, mark)
    for pattern, mark in phrases.KINDS_OF_CLAIM[: phrases.EARLY]:
        text.take(pattern, mark)
    take_places(text)
    slots.limit = _limit(text)
    for pattern, mark in phrases.RESPONDING:
        text.take(pattern, mark)
    if text.has("aftermiss"):
        text.take(r"usually|typically|generally|normally|mostly|tends? to|likes? to")
    for pattern, mark in phrases.SPOTS:
        text.take(pattern, mark)
    take_counts(text)
    text.take(
        rf"({_NEVER}) (?:seem to )?(lay off|resist|stop swinging at|stop chasing|help chasing|"
        r"stay (?:off|away from)|"
        r"keep off|say no to|pass up|help swinging at)",
        "cannotlayoff",
    )
    text.take(rf"({_NEVER}) (?:seem to )?(leave) (?:(?!and |but )[^ ,.;:]+ ){{1,4}}(alone)", "cannotlayoff")
    text.take(r"any ?more(?=(?: [,.?!])| $)|no more(?=(?: [,.?!])| $)", "anymore", 1)
    text.take(r"no longer", "anymore", -1)
    text.take(r"madeover", "changed")
    text.take(r"owns (?=(?:the )?(?:best|highest|lowest|worst|top|most|fewest))")
    for pattern, mark in phrases.KINDS_OF_CLAIM[phrases.EARLY :]:
        if mark != "leads":
            text.take(pattern, mark)
    for pattern, rate in phrases_rates.PHRASAL:
        text.take(pattern, "rate", rate)
    for pattern, terms in phrases_situations.SITUATIONS:
        text.take(pattern, "in", terms, phrases_situations.BEFORE)
    _take_earlier(text)
    text.take(phrases_situations.ONE_SIDE_ONLY, "side only")
    text.take(
        r"(?<=<who> ), an? (?:left|right)(?:y| hander| handed (?:hitter|batter|bat|pitcher|thrower))(?= ,)",
        "clause of somebody",
    )
    for pattern, column, side in phrases_situations.HANDS:
        text.take(pattern, "hand", (column, side), phrases_situations.BEFORE)
    text.take(
        r"(?:(?<=<in> )|(?<=<hand> ))(?:(?:just|really|simply|"
        r"always|absolutely|do) )*(?:<owns>|owns?|eats?(?: up)?|"
        r"kills?|murders?|destroys?|devours?|torch(?:es)?|"
        r"beats?|bothers?)(?= (?:the )?(?:<who>|him|her|them) )",
        "struggles",
    )
    text.take(r"(?<=<who> , )(?:who|an?|the)(?= [^,]*<(?:in|hand)>[^,]* ,)", "clause of somebody")
    _join_kinds(text)
    text.take(r"(?:against|off|off of|facing|versus) (?=<who>)", "vs")
    take_shares(text)
    for pattern, mark, sign in phrases.CONNECTED[: phrases.OF_EASE]:
        text.take(pattern, mark, sign)
    text.take(r"(?:tough|hard|difficult|not easy) to (?=strike out|hit hard|get to)", "tough")
    chosen = "over|to|ahead of" if text.has("lasthalf", "gap", "tied") else "over|to|ahead of|than"
    text.take(
        r"(?:i will take|would take|would rather have|take|give me|i like|prefer) (?=<who> (?:(?!and |but )"
        rf"[^ ,.;:<]+ ){{0,2}}(?:{chosen}) (?:the )?<who>)",
        "prefer",
    )
    if not text.has("prefer", "lasthalf", "gap", "tied"):
        text.take(r"(?<=^ <who> )(over)(?= (?:the )?<who>)", "prefer")
    if text.has("prefer"):
        text.take(r"over(?= (?:the )?<who>)")
        text.take(r"(?<=<who> )up(?: there)?(?= (?:over|than) | (?:the )?<who>)")
    text.take(r"(?<=<who> )no(?= <who>)", "noother")
    if len(text.values("who")) > 1:
        text.take(r"not <who>(?= , (?:not|but|it|little|our|the|<who>) ?)", "excluded")
    if re.search(r" (?:who|which one|which of (?:them|the two)) ", text.line()):
        guessed = re.search(r" be (?:the )?<who> or (?:the )?<who> ", text.line())
        if guessed is None:
            text.take(r"(?<=<who> )(?:or|and)(?= (?:the )?<who> (?:[?.,]|who |which |$))", "orwhom")
        text.take(r"(?<=^ <who> ),(?= (?:the )?<who> [,?:] )", "orwhom")
    text.take(r"(?:give me|i want|i would take)(?= <who>)", "spot")
    text.take(r"(?<=<spot> <who> )up(?: there)?(?=(?: [,.?!])| $)")
    # "A quarter of the sliders that she sees", and not of those that she swings at.
    if text.has("above", "below", "near"):
        text.take(r"(?<=<in> )<seen>", "per", "pitches")
    text.take(r"<seen>")
    for pattern, per in phrases_rates.PERS:
        text.take(pattern, "per", per)
    for pattern, rate in phrases_rates.RATES[: phrases_rates.OF_HARD]:
        text.take(pattern, "rate", rate)
    text.take(
        r"miss(?:es|ed|ing)? (?:him|me|us|you|her(?= (?:[,.!?]|<|more|most|less|since|on|a|the|too) | $))",
        "longing",
    )
    text.take(r"(hit|hits|hitting) " + GAP + "(harder)", "hitharder")
    for pattern, rate in phrases_rates.RATES[phrases_rates.OF_HARD :]:
        text.take(pattern, "rate", rate)
    text.take(r"strikes(?= more| less|,|<)", "in", ("in the zone",))
    _turn_round(text)
    for pattern, mark, value in phrases.COMPARING:
        text.take(pattern, mark, value)
    text.take(
        r"(?:nobody|no one|no (?:other )?(?:hitter|pitcher|club|team|batter|player)|none)(?: else)?", "nobody"
    )
    text.take(
        r"(?:whether |does |has |is |if )?(?:anyone|anybody|any (?:other )?(?:hitter|pitcher|club|"
        r"team))(?: else)?(?= )",
        "anybody",
    )
    text.take(
        r"(?:of )?(?:everyone|everybody|all)(?: (?:the )?(?:hitters|pitchers|clubs))?(?: (?:in|"
        r"of) the league)",
        "everyone",
    )
    for pattern, mark in phrases.KINDS_OF_CLAIM[phrases.EARLY :]:
        if mark == "leads":
            text.take(pattern, mark)
    for pattern, mark, sign in phrases.CONNECTED[phrases.OF_EASE :]:
        text.take(pattern, mark, sign)
    text.take(
        r"(?:in|of|around|across|throughout|through) (?:the|this|our|all the) (?:whole |entire "
        r")?(?:league|game)|league wide|leaguewide",
        "theleague",
    )
    text.take(r"(?:the )?(?:whole |entire )?league(?: as a whole)?", "theleague")
    # The club of the one who is compared within it.
    this = "|this|that|our" if len(text.values("who")) == 1 else ""
    text.take(
        rf"(?:on|of|for|in) (?:his|her|their|the{this}) (?:own )?(?:club|team)|(?:the|his|her) (?:club|team)",
        "owngroup",
    )
    text.take(r"not as", "notas")
    text.take(r"compared (?:with|to) (?=<who>|<in>|<hand>)", "than")
    text.take(r"ahead of (?=<who>)|outdoes (?=<who>)", "aheadof", 1)
    text.take(r"(?:trails|behind) (?=<who>)", "aheadof", -1)
    text.take(r"than(?: (?:is|does))?", "than")
    text.take(r"not|no|nothing|neither|nor|hardly|barely", "not")
    text.take(
        r"(?:which|what) (?P<who>hitter|batter|player|pitcher|club|team|guy|bat|kid)s?", "whose", _whose
    )
    text.take(
        r"(?:which|who|what)(?: one| ones)?(?: (?:of|among) (?:(?:my|our|the|your|all|these|those) )*"
        rf"{_FOLK})? (?=(?:of|among|on|from) (?:(?:my|our|the|your|all|these|those) )*<who>)",
        "whose",
        "hitter",
    )
    for group, subject in (("pitcher", "pitcher"), ("club", "club"), ("team", "club")):
        text.take(rf"(?<={group} )(?:who|that)(?= )", "whose", subject)
    text.take(r"who(?= )", "whose", "hitter")
    if text.has("since", "span", "until", "record", "before", "steady"):
        text.take(r"was|were")
    text.take(r"also|too(?= (?:[,.?!;] )?$| [,.?!;:])", "also")
    if slots.allowing:
        text.take(
            r"(?:allow|surrender)(?:s|ed|ing)?|(?:gives?|gave|given|giving) up|"
            r"(?:induc|generat)(?:es?|ed|ing)"
        )
    text.take(r"among (?:the )?(?=<who>)")
    _turn_counts(slots)
    return slots


def _turn_round(text: Text) -> None:
    """Ask what is meant where a pitch or a hand is said to do it to somebody: "sliders can't touch her"."""
    words = text.words
    for place, word in enumerate(words):
        begins = place == 0 or words[place - 1].text in (*_PAUSES, "the", "a", "an")
        if word.text not in ("<in>", "<hand>") or not begins or _led(text, word):
            continue
        for at, other in enumerate(words[place + 1 :], start=place + 1):
            if other.text in (*_PAUSES, *_DOERS):
                break
            if other.text == "<who>":
                between = words[place + 1 : at]
                done = [one for one in between if one.text in ("<rate>", "<owns>")]
                if done and between[-1].text not in _NOT_DONE:
                    done[0].value = None
                    text.respell(done[0], "<struggles>")
                break


def _led(text: Text, word: Word) -> bool:
    """Say whether a situation is led to by a word of its own: ``on sliders``."""
    return text.said[word.places[0]].casefold() in phrases_situations.BEFORE - {
        "the",
        "a",
        "an",
        "any",
        "all",
    }


_FOLK = "(?:hitters|batters|guys|men|women|girls|boys|kids|bats|players)"
_PAUSES = (",", ".", ";", ":", "?", "!", "and", "but")
_DOERS = (
    *("<nobody>", "<whose>", "<anybody>", "<than>", "<vs>", "than", "who", "nobody", "anyone", "anybody"),
    *("he", "she", "they", "i", "we", "you"),
)
_NOT_DONE = phrases_situations.BEFORE | frozenset(
    ("was", "by", "for", "of", "from", "to", "than", "does", "do", "did", "off")
)


def _take_earlier(text: Text) -> None:
    """Take what came earlier in games or in the count for the rest, where the situation is the last of it."""
    terms = {term for told in text.values("in") for term in told}
    if len(terms) != 1:
        return
    [term] = terms
    than = r"than (?:(?:he|she|it|they) (?:does |do |is |are )?)?"
    if term.startswith("inning>="):
        text.take(
            than + r"earlier(?: (?:in|on in) (?:games?|the game|ball ?games?))?(?=(?: [,.?!])| $)",
            "otherwise",
        )
    elif term in ("strikes=2", "full count"):
        text.take(
            than + r"earlier in (?:the|a|an|his|her) (?:counts?|at bats?|plate appearance)", "otherwise"
        )


def _turn_counts(slots: Slots) -> None:
    """Turn a pitcher's counts round: the situations are those of hitters."""
    whos = slots.text.values("who")
    named = [{person.subject for person in value} for value in whos]
    pitchers = [subjects for subjects in named if "pitcher" in subjects]
    hitters = [subjects for subjects in named if "hitter" in subjects]
    of_pitcher = (bool(pitchers) and (not hitters or (slots.pitching and len(pitchers) == len(named)))) or (
        not named and "pitcher" in slots.text.values("whose")
    )
    for word in slots.text.words:
        if word.text == "<in>":
            word.value = tuple(_count_of(term, turned=of_pitcher) for term in word.value)


def _count_of(term: str, *, turned: bool) -> str:
    if term.startswith("hitter ") and term.endswith(" in the count"):
        return term.removeprefix("hitter ")
    if turned:
        return {"ahead in the count": "behind in the count", "behind in the count": "ahead in the count"}.get(
            term, term
        )
    return term


def _whose(match: re.Match[str]) -> str:
    return {"pitcher": "pitcher", "club": "club", "team": "club"}.get(match["who"], "hitter")


def limit_of(sentence: str, known: Known) -> str:
    """Return why a part of a sentence cannot be asked of a table of pitches; empty where nothing says so."""
    text = Text.of(sentence)
    mark_names(text, known)
    return _limit(text)


def _limit(text: Text) -> str:
    probe = Text([Word(word.text, word.at) for word in text.words], text.said)
    for pattern, why in limits.LIMITS:
        if probe.take(pattern, "limit", True):
            return why
    return ""


_ORDINARY = phrases.vocabulary()


def mark_names(text: Text, known: Known) -> None:
    """Put a mark in the place of every name; a word of the trade alone is no name."""
    words = [word.text for word in text.words]
    kept: list[Word] = []
    at = 0
    while at < len(words):
        many, people = known.named_at(words, at)
        nick = " ".join(words[at : at + many]) in known.nicknames
        if many and (many > 1 or nick or words[at] not in _ORDINARY):
            kept.append(Word("<who>", text.words[at].at, tuple(people)))
            at += many
        else:
            kept.append(text.words[at])
            at += 1
    text.words = kept
    _told_which(text)
    _join_names(text)


def _told_which(text: Text) -> None:
    """Keep the hitters of a name behind which stands ``the hitter``, and so with pitchers."""
    words = text.words
    for place in range(len(words) - 2):
        who, the, noun = words[place : place + 3]
        subject = {"hitter": "hitter", "batter": "hitter", "pitcher": "pitcher"}.get(noun.text)
        if who.text != "<who>" or the.text != "the" or subject is None:
            continue
        found = people_of(who.value, subject)
        if found and len({person.subject for person in who.value}) > 1:
            text.words = [*words[:place], Word("<who>", who.at, found), *words[place + 3 :]]
            _told_which(text)
            return


def _join_names(text: Text) -> None:
    """Take two parts of one name that stand apart, such as ``Hjelrygg, Tuomas that is``, for one name."""
    words = text.words
    for place in range(len(words) - 2):
        first, comma, second = words[place : place + 3]
        if (first.text, comma.text, second.text) != ("<who>", ",", "<who>"):
            continue
        both = tuple(person for person in first.value if person in second.value)
        if both and len(both) <= min(len(first.value), len(second.value)):
            # A list of names goes on with another name; an aside ends the sentence's part.
            text.words = [*words[:place], Word("<who>", first.at, both), *words[place + 3 :]]
            _join_names(text)
            return


_ASKED = re.compile(r"^ (?:does|did|has|is) | \? ")
_DEGREE = re.compile(
    r" (?:more|less|fewer|better|worse|harder)(?: often)? | <who> (?:.* )?(?:most|least|best|worst|hardest) "
)
_OTHERS = re.compile(
    r" (?:than|league|average|anyone|anybody|everyone|everybody|nobody|no one|none|others|<leads>|<hot>) "
)
"""With whom it is compared, where not with the other of two."""


def _join_kinds(text: Text) -> None:
    """Take sliders and curveballs for one situation: a pitch is one or the other.

    "Does she miss more on sliders or on curveballs" asks on which of them, and "she is best on sliders or on
    curveballs" leaves it open.
    """
    line = text.line()
    asked, degree, others = (
        found is not None for found in (_ASKED.search(line), _DEGREE.search(line), _OTHERS.search(line))
    )
    for place in range(len(text.words) - 2):
        first, joined, second = text.words[place : place + 3]
        if first.text != second.text or first.text not in ("<in>", "<hand>"):
            continue
        told = (asked, degree, _led(text, second))
        if joined.text == "or" and (first.text == "<hand>" or sum(told) >= (3 if others else 2)):
            text.respell(joined, "<either>")
        if first.text == "<hand>" or joined.text not in ("and", "or"):
            continue
        terms = (*first.value, *second.value)
        if len(terms) == 2 and all(term.startswith("pitch_kind=") for term in terms):
            kinds = dict.fromkeys(term.partition("=")[2] for term in terms)
            either = Word("<in>", first.at, (f"pitch_kind={','.join(kinds)}",))
            text.words = [*text.words[:place], either, *text.words[place + 3 :]]
            _join_kinds(text)
            return


def hand_term(hand: tuple[str, str], subject: str) -> str:
    """Return a hand as a situation; one that is only called a hand is that of the other side."""
    column, side = hand
    about = "hitter_side" if subject == "pitcher" else "pitcher_hand"
    return f"{about if column == 'hand' else column}={side}"


def of_bases(term: str) -> bool:
    """Say whether a term tells who is on base."""
    return term in ("runners on", "runner on second or third") or term.startswith("bases=")


def going_together(*terms: str) -> Situation:
    """Return the situation of several terms.

    Raises
    ------
    ClaimError
        Where one of them is none, or they are of one thing twice: runners on and the bases empty, too.
    """
    if "runners on" in terms and any(term.startswith("bases=") for term in terms):
        raise ClaimError("who is on base cannot be two things on one pitch")
    return situation(*terms)


def not_together(*terms: str) -> str:
    """Return what is asked back of situations that do not go together, in words; empty where they do."""
    for pair in combinations(terms, 2):
        try:
            going_together(*pair)
        except ClaimError:
            one, other = (situation(term).words for term in pair)
            return f"no pitch is both {one} and {other}: which is meant?"
    return ""


def people_of(value: tuple[Person, ...], subject: str) -> tuple[Person, ...]:
    """Return those of some that are of one kind."""
    return tuple(person for person in value if person.subject == subject)
