"""Which words of a learner's sentence are accounted for, and which the list does not know.

A sentence is told right only where every word of it is one of these: a word that claims nothing
(``idle_words``); a plain word of our own sentences of that exercise (its model and its good ones); and a
number, or a word that could turn over what is said (one that denies, limits, compares, counts or dates), only
where it stands in one of the exercise's frames, in one of those below, or between the same neighbours as in
one of our own sentences. So a turn that nobody foresaw is not taken for right, and its writer is told which
words it hangs on. The other way round than ``TooMuch``, which knows the turns that were met.

Texts are read plainly: people as ``<a>``, ``<b>`` in the order of the form, numbers in figures, short forms
written out, every stop a comma between blanks.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from hitlab.exercises import patterns
from hitlab.exercises.counted import miscounted
from hitlab.exercises.definitions import Sentence
from hitlab.exercises.figures import in_figures
from hitlab.exercises.frames import words_of
from hitlab.exercises.weighed import WEIGHING, misweighed
from hitlab.idle_words import ADDRESS, GRAMMAR, WEIGHTY

__all__ = ["not_accounted", "not_given", "plainly"]

# fmt: off
_IDLE = GRAMMAR | ADDRESS | frozenset((
    ",", "'s", "<a>", "<b>", "there", "her", "his", "him", "their", "them", "who", "which", "what",
    "how", "has", "have", "had", "was", "were", "been", "being", "did", "in", "on", "at", "from", "by",
    "but", "yet", "though", "although", "however", "also", "know", "see", "seen", "look", "looks",
    "looking", "looked", "still", "season", "truly", "really", "remains", "stays", "question", "saw",
    "judging", "according", "hers", "theirs",
))
"""Words that claim nothing in a sentence for air."""
_LIGHT = frozenset((
    "gets", "go", "goes", "going", "gone", "come", "comes", "came", "coming", "turn", "turns", "wants",
    "finds", "say", "says", "tell", "tells", "show", "shows", "shown", "call", "calls", "called", "put",
    "puts", "measured", "judged", "seems", "appears", "case", "cases", "kind", "way", "word", "words",
    "thing", "things", "bit", "count", "pick", "rule", "place", "start", "moment", "fans", "listeners",
    "great", "fine", "good", "nice", "impressive", "interesting", "figures", "numbers", "basis", "terms",
    "simply", "indeed", "anyway", "mind", "remember", "note", "think", "believe", "guess", "reckon", "record",
))
"""Words that are light everywhere: none of them says who, what, of what, how much or whether."""
_PRAISE = frozenset(("great", "fine", "good", "nice", "impressive", "interesting"))
"""Of these, what claims nothing unless it is denied: "hardly a good hitter"."""
_RELATIONS = frozenset((
    "lead", "leads", "led", "leading", "leader", "heads", "ahead", "behind", "beat", "beats", "trail",
    "trails", "top", "tops", "topped", "bottom", "front", "above", "below", "under", "over", "beyond",
    "within", "outside", "inside", "between", "past", "up", "down", "off", "through", "toward", "back",
    "best", "worst", "better", "worse", "high", "higher", "highest", "low", "lower", "lowest", "larger",
    "largest", "further", "farther", "farthest", "closer", "near", "nearer", "far", "close", "wide",
    "wider", "spread", "differ", "vary", "varies", "steep", "steeper", "longest", "long", "short",
    "much", "too", "as", "like", "together", "apart", "miss", "misses", "missed", "missing", "play",
    "all", "about", "around", "roughly", "one", "two", "again", "ever", "even", "whether", "equal",
    "equals", "skill", "somebody", "someone", "everyone", "explain", "explains", "happened", "changes",
    "sure", "chance", "chances", "luck", "can", "probably", "keep", "keeps", "expect", "means",
    "matter", "forgives", "moon", "vacuum", "number", "picked", "swings", "charting", "charts",
    "charted", "checked", "searched",
))
"""Words that compare, weigh, or say who stands where: beside ``WEIGHTY``, where they are not alone."""
_CERTAIN = frozenset((
    "certain", "certainly", "sure", "surely", "settled", "settles", "settle", "clear", "clearly", "plain",
    "plainly", "known", "decided", "obvious", "obviously", "closed", "answered", "shown", "seen",
))
"""Words that settle what is asked; "open" alone does not."""
# fmt: on
_WEIGHTY = ((WEIGHTY | _RELATIONS) - _IDLE) | _CERTAIN

_TO_US = r"(?: us| you| me| yet| as to)*"
_OPEN_HEAD = (
    rf"(?:(?:open|unclear|uncertain|question|undecided){_TO_US}|"
    r"(?:not|cannot|nobody|none|no one|never|too early|too soon|too close|hard|impossible)"
    r"(?: (?!but\b|and\b)[a-z<>']+){0,4}? "
    r"(?:tell|say|said|told|know|knows|known|see|seen|sure|clear|settle|settled|decide|decided|judge|proven|"
    rf"certain){_TO_US})"
)
_QUESTION = re.compile(rf"(?<=\s)(?:whether|{_OPEN_HEAD} (?P<asks>if|who|which))(?=\s)")
_ASKED = frozenset(("luck", "skill", "better", "best", "learns", "adjusts"))
"""What may be asked of any hitter; the rest is what our own sentences ask."""
_ENDS_ASKING = frozenset((
    ",", "and", "but", "so", "yet", "though", "although", "that", "which", "how", "as", "still", "also",
    "too", "even", "again", "ever", "all", "who", "however",
))  # fmt: skip
"""Words at which what is asked ends, or which claim something within it."""

_ABOUT = r"(?:(?:about|only|roughly|around|some|just|an?|better than|more than|under) )*"
_IN_SO_MANY = r"(?:(?:in|of|out of|to) (?:an? |every |one )?(?:\d\d?|100|hundred|one))"
_BETWEEN = r"(?:yet |really |at all |quite |very |much |good |real |all that )?"  # for any word between
_FRAMES = (
    *(one.replace(r"(?:\w+ )?", _BETWEEN) for one in patterns.DOUBT),
    *(one for one in patterns.LIKELY if "sure" not in one),
    r"(?:(?:most|very|quite|more|rather|highly) )?(?:(?:un)?likely|(?:im)?probabl[ey])",
    r"(?:almost|nearly|quite|practically|virtually|\d+%) (?:surely|certain(?:ly)?|sure)",
    rf"{_ABOUT}(?:one|two|\d\d?)(?: such)? (?:time|chance|range|case)s? {_IN_SO_MANY}",
    rf"{_ABOUT}(?:one|\d) {_IN_SO_MANY} chance",
    rf"(?:chance|probability|level|confidence|odds)(?: (?:of|is|are|at|that is))* {_ABOUT}"
    rf"(?:\d+(?:\.\d)?%|(?:one|two|\d\d?) {_IN_SO_MANY})",
    rf"{_ABOUT}\d+(?:\.\d)?% (?:chance|probability|likely|sure|certain|certainty|level|confidence|"
    r"range)",
    r"(?:that )?(?:leaves?|stays?|remains?) (?:it |that )?open|(?:set|judged|seen) (?:beside|together with)",
    r"(?:with|there is|there are|what|the|an?) chances?",
    r"(?:chance|say|tell|so|likely|early|soon|open) that",
    r"(?:i|we) would (?:say|put|call)|(?:we|i|you) have seen",
    r"(?:so far|to date|up to now|right now|at the moment|in all|in the long run|this (?:season|year)|as "
    r"well|for one|on air)",
    r"(?:per|every|any|each)(?: single)? swing|all (?:of )?(?:her|his|the|their) swings|swing (?:for|by|"
    r"to) swing",
    r"(?:by|may|could|might)(?: well)?(?: just| all)? be(?: only| just| partly| pure)? luck",
    r"(?<=, )(?:too)(?= ,)",
    r"luck (?:alone )?(?:may|could|might)(?: well)? (?:have helped|do (?:that|it|this)|have done (?:that|"
    r"it|this))",
    r"(?:at )?least(?= ,| in a model)|of the two|each other",
    r"when (?:you|we) (?:look|count|compare)|(?:held|measured|judged) against|compared (?:with|to)|having|"
    r"as charted",
    r"(?:is|was) (?:just |simply |still |hardly )?not enough(?: yet)?(?: to (?:tell|say|know|"
    r"decide|judge|see|settle)"
    r"(?: it| that)?)?",
    r"(?:a|the|such a|that|this|an?) (?:gap|difference|number|record|run|share|rate|thing) like "
    r"(?:that|this)|"
    r"for real|in (?:truth|reality|fact)|(?:no more|not more) than (?=\d)|a mere (?=\d)|or so",
    r"(?<=chance )(?:is|are) (?:just |only |about |roughly )*(?:one|two|\d) in (?:two|ten|\d+)"
    r"(?= (?:,|that))",
    r"(?:her|his|their|these|those)(?: own)? swings(?! (?:is|are|was|were)\b)|of swings",
    r"(?<=[a-z] )too(?= ,)|the one(?= (?:who|that|to)\b)|like (?:this|that|these|those)(?= ,)",
    r"as (?:far as|things stand|it stands|it is)(?: (?:the eye|the chart|we|one|anybody|i) can "
    r"(?:tell|see|say))?",
    r"how often (?:she|he|<a>|they) (?:truly |really |in truth )?(?:does|do|hits|makes|gets)(?: "
    r"(?:it|so|hard|that))?",
    r"(?:for )?one(?= thing)|(?<=is )(?:(?:only|just|about|roughly|around) )+(?=\d)",
    r"(?:does|do) not (?:yet )?(?:make|mean)(?= (?:her|him|that|<a>)\b)(?: (?:her|him|<a>) the "
    r"best(?: (?:hitter|one|of|"
    r"them|all))*)?",
    r"(?:only|just)(?= (?:about|one|two|\d))|(?:only|just)(?= (?:about )?an? (?:\S+ ){1,4}chance)|(?:fine|"
    r"good|hot|great|nice)(?: start)?(?= (?:,|for <))",
)
"""Of all exercises."""

# fmt: off
_DENYING = frozenset((
    "not", "no", "never", "none", "nobody", "nor", "neither", "hardly", "scarcely", "barely", "rarely",
    "seldom", "without", "unlikely",
))
# fmt: on

_SHORT = (
    (r"\bcan't\b|\bcannot\b", "can not"),
    (r"\bwon't\b", "will not"),
    (r"n't\b", " not"),
    (r"'d\b", " would"),
    (r"'ll\b", " will"),
    (r"'ve\b", " have"),
    (r"'re\b", " are"),
    (r"\bi'm\b", "i am"),
    (r"'s\b|(?<=s)'(?= )", " 's"),
)
_SAME = (
    (r"\b(?:player|batter)(?=s?\b)", "hitter"),
    (r"(?<=\d )(?:cuts|hacks)\b", "swings"),
    (r"\bgenuinely\b", "truly"),
    (r"\blikelier\b", "more likely"),
    (r"\b(?:computer|flight) (?=model)", ""),
    (r"\bordinary\b", "usual"),
    (r"\bloaded\b", "full"),
    (r"\btie game\b", "tied game"),
    (r"\bfollowing\b", "after"),
    (r"\bwhiffed on\b", "missed"),
)
"""Other words for the same."""
_STOP = re.compile(r"\.(?!\d)|[,;:!?()\"/]|(?<= )-+(?= )")


def plainly(text: str, people: tuple[str, ...] = ()) -> str:
    """Return a sentence as the frames read it.

    Parameters
    ----------
    text
        The sentence.
    people
        Full names; whoever is named whole, by first name or by surname becomes ``<a>``, ``<b>``, ...
    """
    said = f" {patterns.as_read(text)} "
    for sign, full in zip("ab", people, strict=False):
        first, *_, last = patterns.as_read(full).split()
        said = re.sub(rf"\b{first}(?: {last})?\b|\b{last}\b", f"<{sign}>", said)
    said = in_figures(said)
    for short, long in (*_SHORT, *_SAME):
        said = re.sub(short, long, said)
    said = _STOP.sub(" , ", said)
    said = re.sub(r"(?<=[a-z>])-(?=[a-z<])", " ", said)
    return re.sub(r"(?: ,)+", " ,", f" , {' '.join(said.split())} , ").strip()


@cache
def _ours(form: Sentence) -> tuple[frozenset[str], frozenset[tuple[str, ...]]]:
    """Return the words of our own sentences, and the threes that stand side by side in them."""
    words: set[str] = set()
    threes: set[tuple[str, ...]] = set()
    for text in (form.said(), *form.good):
        said = [_kind(word) for word in plainly(text, form.people).split()]
        words.update(said)
        threes.update(zip(said, said[1:], said[2:], strict=False))
    return frozenset(words), frozenset(threes)


_ALIKE = dict.fromkeys(("a", "an", "her", "his", "our", "this", "these", "those", "their", "its"), "the")
_ALIKE |= dict.fromkeys(("are", "was", "were", "'s"), "is")
_ALIKE |= dict.fromkeys(("she", "he", "they", "it"), "<a>")


def _kind(word: str) -> str:
    """Return what a word is taken for among neighbours."""
    return _ALIKE.get(word, word)


def not_accounted(text: str, form: Sentence) -> tuple[str, ...]:
    """Return the words of a sentence that the list does not know there, each once.

    Parameters
    ----------
    text
        The sentence, as it was typed.
    form
        The exercise's people, its frames, and our own sentences.
    """
    said = plainly(text, form.people)
    covered = [span for frame in (*_FRAMES, *form.frames) for span in _spans(frame, said)]
    asked_by_us = _asked_by_us(form)
    covered += [span for span in _asked(said, asked_by_us) if asked_by_us & set(said[slice(*span)].split())]
    words, threes = _ours(form)
    stems = {_stem(one) for one in words if one not in _WEIGHTY}
    places = list(re.finditer(r"\S+", said))
    kinds = [_kind(place[0]) for place in places]
    names = {f"<{sign}>": full.split()[0] for sign, full in zip("ab", form.people, strict=False)}
    idle = (_IDLE | _LIGHT) - (
        names.keys() if len(names) > 1 else set()
    )  # where there are two: who does what to whom
    idle -= _PRAISE | _CERTAIN
    ours = [plainly(text, form.people) for text in (form.said(), *form.good, *form.phrases)]
    elsewhere = miscounted(said, ours) | misweighed(said, ours)
    twice = _denied_twice(places, covered)
    denied = _denied(places)
    unknown = []
    for n, place in enumerate(places):
        word = place[0]
        if n in twice or place.start() in elsewhere:
            unknown.append(word)
            continue
        if (
            word in idle
            or (word in _PRAISE and n not in denied)
            or any(begin <= place.start() and place.end() <= end for begin, end in covered)
        ):
            continue
        weighty = (
            word in _WEIGHTY or word in names or word[-1].isdigit() or word[-1] == "%" or word[:-2].isdigit()
        )
        if tuple(kinds[n - 1 : n + 2]) in threes if weighty else kinds[n] in words or _stem(word) in stems:
            continue
        unknown.append(word)
    for sign, first in names.items():
        unknown = [word.replace(sign, first) for word in unknown]
    return tuple(dict.fromkeys(unknown))


def not_given(unknown: tuple[str, ...], text: str, form: Sentence, given: frozenset[str]) -> tuple[str, ...]:
    """Return those of the words that are the writer's own, as they were written.

    Left out are people, numbers (what nobody showed is told before), and words of the lesson, of our own
    sentences and of the frames: they are known, and only their place is not.

    Parameters
    ----------
    unknown
        What ``not_accounted`` gave.
    text, form
        As there.
    given
        The words of the lesson.
    """
    people = {word for full in form.people for word in plainly(full).split()}
    known = {_stem(word) for word in given | people | _ours(form)[0] | words_of(*form.frames) | WEIGHING}
    written: dict[str, str] = {}
    for word in reversed(_WORD.findall(text)):  # one with hyphens is named whole for any part of it
        whole = _SOMEBODYS.sub("", word)
        written |= {patterns.as_read(part): whole for part in (*_HYPHEN.split(whole), whole)}
    named = (written[word] for word in unknown if word in written and _stem(word) not in known)
    return tuple(dict.fromkeys(named))


_WORD = re.compile(r"[^\W\d_]+(?:['’‘‐‑-][^\W\d_]+)*")
_SOMEBODYS = re.compile(r"['’‘]s$", re.IGNORECASE)
_HYPHEN = re.compile(r"[‐‑-]")
_ENDING = re.compile(r"(?<=[a-z]{3})(?:ing|ed|es|s|e)$")


def _stem(word: str) -> str:
    """Return a word without its ending: ``touch`` of "touching", "touched" and "touches"."""
    bare = _ENDING.sub("", word)
    return bare[:-1] if len(bare) > 3 and bare[-1] == bare[-2] and bare[-1] not in "lsz" else bare


@cache
def _asked_by_us(form: Sentence) -> frozenset[str]:
    """Return the words that say what our own sentences of an exercise ask."""
    texts = [plainly(text, form.people) for text in (form.said(), *form.good)]
    nothing_asked = _DENYING | _IDLE | _LIGHT | {"swings", "hitter", "hitters", "open"}
    texts = [text.partition(" whether ")[2].partition(" , ")[0] for text in texts]
    words = {word for text in texts for word in text.split() if word not in nothing_asked}
    return _ASKED | {word for word in words if word[0] != "<" and not word[0].isdigit()}


def _asked(said: str, ours: frozenset[str]) -> list[tuple[int, int]]:
    """Return where something is only asked: behind "whether", and behind "tell if", up to where that ends.

    Nothing is claimed there, so who stands where, and what is asked, may be in any order; what denies or
    limits it may not, nor numbers, nor words that nobody knows.
    """
    spans, known = [], (_RELATIONS | _IDLE | _LIGHT | ours | {"or", "more", "than", "less"}) - _CERTAIN
    for head in _QUESTION.finditer(said):
        end = head.end()
        for place in re.finditer(r"\S+", said[head.end() :]):
            if place[0] not in known - _ENDS_ASKING and place[0][0] != "<":
                break
            end = head.end() + place.end()
        spans.append((head.start("asks") if head["asks"] else head.start(), end))
    return spans


def _denied(places: list[re.Match[str]]) -> set[int]:
    """Return the places that stand between two stops together with a word that denies or doubts."""
    within, clause, denies = set(), set[int](), False
    for n, place in enumerate(places):
        if place[0] == ",":
            within |= clause if denies else set()
            clause, denies = set(), False
        clause.add(n)
        denies = denies or place[0] in _DENYING or place[0].startswith(("doubt", "improbab"))
    return within | (clause if denies else set())


def _denied_twice(places: list[re.Match[str]], covered: list[tuple[int, int]]) -> set[int]:
    """Return the places of what denies a second time between two stops, outside the frame of the first."""
    twice, first = set(), None
    for n, place in enumerate(places):
        if place[0] == ",":
            first = None
        elif place[0] in _DENYING:
            if first is None:
                first = place
            elif not any(begin <= first.start() and place.end() <= end for begin, end in covered):
                twice.add(n)
    return twice


def _spans(frame: str, said: str) -> Iterator[tuple[int, int]]:
    """Give where a frame holds: of its groups alone, where it has some, else all of it."""
    for found in re.finditer(rf"(?<=\s)(?:{frame})(?=\s)", said):
        named = [found.span(group) for group in found.groupdict() if found[group] is not None]
        yield from named or [found.span()]
