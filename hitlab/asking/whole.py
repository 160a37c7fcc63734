"""A sentence that is read as a whole: its slots, the question that they make, and what is asked back of it.

A name that is only nearly one, a word with a slip of the finger in it, and a surname of two are told here.
"""

from __future__ import annotations

import re
from dataclasses import replace

from hitlab.asking.fit import Fitted, fit
from hitlab.asking.found import understood
from hitlab.asking.limits import MANNERS_OF_SPEAKING
from hitlab.asking.order import out_of_order
from hitlab.asking.outcome import Asked
from hitlab.asking.people import Known
from hitlab.asking.phrases import FILLERS, vocabulary
from hitlab.asking.risk import plain_word, risky
from hitlab.asking.slots import Slots, people_of, read_slots
from hitlab.asking.soft_marks import TALK
from hitlab.asking.text import Text, slip_of
from hitlab.names import fold
from hitlab.questions.question import Question
from hitlab.showing import quoted, shown_name

__all__ = ["MOST_CHOICES", "NOTHING", "example", "key_of", "of_two", "read_whole"]

MOST_CHOICES = 8
NOTHING = "nothing in it names"


def example(known: Known) -> str:
    """Return a sentence that can be asked of a table, with somebody who is in it."""
    hitters = [person.label for person in known.people if person.subject == "hitter"]
    said = (
        f"nobody hits it hard more often than {hitters[0]}"
        if hitters
        else "the league misses more on sliders"
    )
    return f"say it in English, of hitters, pitchers or clubs of the table, such as: {said}"


_WHIFF_RATE = re.compile(r"whiff(?:ing)? (?:rate|percent)", re.IGNORECASE)
"""What both have; who "whiffs" swings."""
_MUCH_WHIFFING = re.compile(r"\b(?:of|more|less|some|any|much|little) swing and miss\b", re.IGNORECASE)
"""Said of what there is of it: lots of swing and miss."""
_HITS = frozenset(("hitter", "batter", "bat", "stick", "plate", "slugger", "lineup"))
"""Words by which it is said of who bats."""
_BOTH_ASK = ("above", "leads", "more", "near", "split", "top")
"""Kinds of claim that are asked of hitters and of pitchers."""
_ORDINARY = frozenset(word for word in vocabulary() if len(word) >= 5) - FILLERS | {
    "pitch",
    "pitches",
    "hitters",
}
_WORDS = vocabulary()
_SHORTEST_SLIP = 6


def read_whole(sentence: str, text: Text, known: Known) -> Asked:
    """Read a sentence of which nothing is talk beside the claim."""
    if not text.words:
        return Asked(text=sentence, why=f"there is no word in it; {example(known)}")
    line = text.line()
    for nick, name in known.nicknames.items():
        if f" {nick} " in line and not known.find(nick):
            said = f"{quoted(nick)} is said to be {quoted(name)}, and nobody here is called so"
            return Asked(text=sentence, asks=f"{said}: whom do you mean?")
    slots = read_slots(text, known)
    taken: tuple[tuple[str, str], ...] = ()
    mended = _mended(sentence, slots)
    if mended:
        again = Text.of(mended[0])
        better = read_slots(again, known)
        if len(better.strange) < len(slots.strange):
            slots, taken = better, mended[1]
    return _result(sentence, slots, known, taken)


def _result(sentence: str, slots: Slots, known: Known, taken: tuple[tuple[str, str], ...]) -> Asked:
    strange = tuple(dict.fromkeys(slots.text.said[word.at] for word in slots.strange))
    strange = (slots.aside, *strange) if slots.aside else strange
    strange = (*slots.text.idle, *strange)
    base = Asked(
        text=sentence, left_out=strange, taken=taken, heard=tuple(slots.text.heard), found=understood(slots)
    )
    fitted = fit(slots, known)
    if slots.limit:
        offered_now = fitted.questions and slots.limit in MANNERS_OF_SPEAKING and slots.text.has("rate")
        nearest = fitted.questions[0] if offered_now else None
        return replace(base, why=slots.limit, nearest=nearest)
    near = _near_name(sentence, slots, known)
    if near is not None:
        return replace(near, text=sentence, left_out=strange, found=base.found)
    if fitted.why:
        return replace(base, why=fitted.why)
    if not fitted.asks and len(fitted.questions) == 1:
        twice = of_two(base, slots, fitted.questions[0], usual=fitted.usual)
        if twice is not None:
            return twice
        jumbled = _jumbled(sentence, slots)
        if jumbled:
            return replace(base, asks=jumbled, nearest=fitted.questions[0])
        return replace(base, readings=tuple(fitted.questions), usual=fitted.usual)
    if _nothing_of_it(slots, fitted) and not fitted.asks.startswith("since which day"):
        return replace(base, why=f"{NOTHING} what a table of pitches counts; {example(known)}")
    offered = list(dict.fromkeys(key_of(one) for one in fitted.questions))
    questions = [next(q for q in fitted.questions if key_of(q) == key) for key in offered][:MOST_CHOICES]
    asks = fitted.asks or "what is said of it?"
    if len(questions) == 1:
        return replace(base, asks=asks, nearest=questions[0], nearly=fitted.light)
    return replace(base, asks=asks, readings=tuple(questions))


def _jumbled(sentence: str, slots: Slots) -> str:
    """Say why words are no sentence though a question could be made of them; empty where they are one."""
    astray = out_of_order(sentence)
    if astray:
        told = ", ".join(f"“{word}”" for word in astray[:6])
        return f"{told} cannot stand so in a sentence: is this what was meant?"
    used = sum(word.text.startswith("<") for word in slots.text.words)
    if len(slots.strange) > used:
        told = ", ".join(f"“{slots.text.said[word.at]}”" for word in slots.strange[:6])
        return f"most of it would play no part ({told}): is this what was meant?"
    return ""


def of_two(asked: Asked, slots: Slots, question: Question, *, usual: bool = False) -> Asked | None:
    """Ask back of the hitter and of the pitcher of one surname, where both do what is said; or nothing."""
    bearers = _two_bearers(slots, question, usual=usual)
    if not bearers:
        return None
    hitter, *pitchers = (shown_name(one.who) for one in bearers)
    asks = f"{hitter}, who hits, or {' or '.join(pitchers)}, who pitches?"
    return replace(asked, asks=asks, readings=tuple(bearers))


def _two_bearers(slots: Slots, question: Question, *, usual: bool) -> list[Question]:
    """Return a question of the hitter and of the pitcher of one surname, where both do what is said; or none.

    "Burgenzal walks too many": who bats walks, and who pitches walks others. "Velenzal is better on lefties":
    who pitches is better where hitters do less.
    """
    t = slots.text
    named = t.values("who")
    done = (
        usual
        or question.event in ("strikeouts", "walks")
        or (question.event == "whiffs" and any(_WHIFF_RATE.match(t.typed(one)) for one in t.words))
        or (question.event == "whiffs" and _MUCH_WHIFFING.search(" ".join(t.said)) is not None)
    )
    bat_only = ("pitcher=", "own", "other") if usual else ("pitcher_hand", "pitcher=", "own", "other")
    of_bat = t.has("per") or bool(_HITS.intersection(map(fold, t.said)))
    of_bat = of_bat or any(term.startswith(bat_only) for term in question.when)
    if (
        not done
        or of_bat
        or question.subject != "hitter"
        or question.kind not in _BOTH_ASK
        or len(named) != 1
    ):
        return []
    typed = fold(t.typed(next(word for word in t.words if word.text == "<who>")))
    pitchers = people_of(named[0], "pitcher")
    if not pitchers or fold(question.who).split()[-1] not in typed:
        return []
    pitched = replace(
        question,
        subject="pitcher",
        when=tuple(term.replace("pitcher_hand=", "hitter_side=") for term in question.when),
    )
    if usual and question.direction != "either":
        pitched = replace(pitched, direction="less" if question.direction == "more" else "more")
    return [question, *(replace(pitched, who=one.label) for one in pitchers)]


def key_of(question: Question) -> str:
    """Return all that a question asks as one text: the same of two that ask the same."""
    return repr(question.to_dict())


def _nothing_of_it(slots: Slots, fitted: Fitted) -> bool:
    """Say whether a sentence has nothing that could be asked: mostly words that nothing explains."""
    text, strange = slots.text, len(risky(slots.text, slots.strange))
    if fitted.questions or (
        slots.bare
        and (
            text.has("rate", "in", "hand", "owns", "hot")
            or (text.has("best", "steady") and not text.has("who"))
        )
    ):
        return False
    telling = [
        w
        for w in text.words
        if w.text.startswith("<") and w.text not in ("<who>", "<not>", "<whose>", "<than>")
    ]
    if text.has("who"):
        return strange >= 2 and (not text.has("rate", "owns", "hot", "steady") or strange > 2 * len(telling))
    return strange >= 1 and (not text.has("rate", "owns") or strange > len(telling))


def _near_name(sentence: str, slots: Slots, known: Known) -> Asked | None:
    """Ask back where a word that nothing explains is nearly a name, or stands where a name would."""
    if slots.text.has("who") and not any(
        known.near(word.text) for word in slots.strange if len(word.text) > 3
    ):
        return None
    if not any(word.text.startswith("<") for word in slots.text.words):
        return None
    said = slots.text.said
    lower = slots.text.has("whose", "nobody", "theleague", "who")
    for word in slots.strange:
        if len(word.text) < 4 or not word.text.isalpha() or word.text in _WORDS or plain_word(word.text):
            continue
        if word.text in TALK and not said[word.at][:1].isupper():
            continue
        place = next(n for n, one in enumerate(slots.text.words) if one is word)
        first = slots.text.words[place - 1] if place else word
        named = first.value if first.text == "<who>" else ()
        if not named and not said[word.at][:1].isupper() and (lower or not sentence.islower()):
            continue
        near = known.near(word.text)
        begun = [one for one in near if any(part.startswith(word.text) for part in fold(one.label).split())]
        near = begun or [one for one in near if one.subject == "hitter"] or near
        if not near:
            continue
        slipped = [one for one in named if one in near and _slipped(word.text, one.label)]
        typed = f"{said[first.at]} {said[word.at]}"
        if len(slipped) == 1 and typed in sentence and said[word.at] not in slipped[0].label:
            # The first name tells who it is.
            again_said = sentence.replace(typed, slipped[0].label, 1)
            told = read_whole(again_said, Text.of(again_said), known)
            return replace(told, taken=((said[word.at], slipped[0].label), *told.taken))
        if slots.text.has("who") and not said[word.at][:1].isupper():
            continue
        questions: list[Question] = []
        for person in near[:3]:
            again_said = sentence.replace(said[word.at], person.label, 1)
            again = Text.of(again_said)
            questions += read_whole(again_said, again, known).choices
        names = ", ".join(shown_name(person.label) for person in near[:3])
        asks = f"nobody here is called {quoted(said[word.at])}; the nearest: {names}. Whom do you mean?"
        if len(questions) == 1:
            return Asked(text=sentence, asks=asks, nearest=questions[0], nearly=True)
        return Asked(text=sentence, asks=asks, readings=tuple(questions))
    if (
        not slots.text.has("who")
        and slots.strange
        and slots.text.has("rate", "owns", "hot", "steady", "different")
    ):
        first = slots.strange[0]
        if said[first.at][:1].isupper() and first.at <= 1 and "'" not in said[first.at].replace("’", "'"):
            return Asked(
                text=sentence,
                asks=f"nobody here is called {quoted(said[first.at])}, nor nearly so: whom do you mean?",
            )
    return None


def _slipped(typed: str, label: str) -> bool:
    """Say whether a part of a name was typed with one slip, or two letters of it in the wrong order."""
    from rapidfuzz.distance import OSA

    return any(OSA.distance(part, typed, score_cutoff=1) == 1 for part in fold(label).split())


def _mended(sentence: str, slots: Slots) -> tuple[str, tuple[tuple[str, str], ...]] | None:
    """Take a word that nothing explains for the one of the trade from which a slip of a finger parts it."""
    taken = []
    for word in slots.strange:
        meant = slip_of(word.text, _ORDINARY) if len(word.text) >= _SHORTEST_SLIP else ""
        if meant:
            typed = slots.text.said[word.at]
            taken.append((typed, meant))
            sentence = sentence.replace(typed, meant, 1)
    return (sentence, tuple(taken)) if taken else None
