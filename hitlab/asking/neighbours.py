"""What a word is said of: a mark counts only where it stands beside what it can be said of.

"More" is said of a rate in "misses more", and of something else in "misses more games", "a bigger bat", "the
best pitchers"; a hand is the pitcher's in "against lefties", and the hitter's in "the best lefty". A word
that is taken for one while it is said of the other makes another question, and so each is asked back.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from hitlab.asking.frames import BROUGHT_IN, CHANGING
from hitlab.asking.text import Text, Word
from hitlab.names import fold

__all__ = ["denied_elsewhere", "misplaced", "on_both_sides"]

# fmt: off
_SKIPPED = frozenset(("a", "an", "the", "his", "her", "their", "its", "any", "all", "of", "these", "those"))
_DEGREES = ("<more>", "<most>", "<better>", "<best>", "<top>", "<bottom>")
_LEADING = frozenset((
    "with", "against", "on", "in", "at", "off", "for", "versus", "from", "by", "to", "as", "facing",
    "through", "when", "if", "after", "batting", "hitting", "over", "under", "down", "up", "out", "outside",
    "inside", "ahead", "behind", "per", "within", "late", "once", "whenever", "vs", "v", "w", "faces", "sees",
    *BROUGHT_IN,
))
_DANGLING = frozenset(("by", "in", "on", "at", "with", "against", "off", "facing", "versus", "from", "to"))
_NOUNS = frozenset((
    "game", "games", "time", "times", "bat", "bats", "ball", "balls", "club", "clubs", "team", "teams",
    "pitcher", "pitchers", "swing", "pitching", "season", "seasons", "year", "years", "day", "days", "stuff",
    "runs", "run", "inning", "innings", "way", "look", "looks", "man", "men", "one", "guy", "guys", "hits",
    "hit",
    "thing", "things", "kind", "type", "case", "lot", "lots", "much", "league",
))
_AMOUNTS = frozenset((
    "more", "less", "fewer", "most", "least", "fewest", "higher", "lower", "highest", "lowest", "often",
    "frequently", "likely", "oftener", "as", "share", "slice", *CHANGING,
))
_OF_RATE = frozenset((
    "rate", "rates", "percentage", "percent", "share", "average", "hitter", "hitters", "skills", "swinger",
    "swingers", "eye", "chaser", "chasers", "whiffer", "whiffers",
))
_HITTERS = frozenset(("hitter", "hitters", "batter", "batters", "player", "players", "bat", "bats"))
_INSIDE = frozenset((
    "it", "the", "a", "an", "ball", "balls", "them", "his", "her", "their", "its", "pitch", "pitches", "all",
    "any", "of", "one", "ones", "really", "very", "so", "on", "in", "against", "off", "with", "quite", "this",
    "that", "these", "those", "and", "or", "no", "to", "at",
))
_COMPARED = (
    "<than>", "<league>", "<anyone>", "<everyone>", "<usual>", "<rest>", "<aheadof>", "<prefer>", "<ownclub>",
)
_IDLE_NOUNS: tuple[tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]], ...] = (
    (("ball", "balls"), ("the",), ()),
    (("bat", "bats", "swing"), ("<who>", "his", "her"), ("<hot>",)),
    (("bat", "bats"), ("<hand>",), ()),
    (("guy", "man", "one"), ("the",), ("<whose>",)),
    (("game",), ("his", "her", "their"), ()),
    (("game",), ("",), ("plan",)),
    (("hit", "hits"), ("<who>", "<whose>", ""), ("<in>", "<hand>", "<vs>")),
    (("look", "looks"), (), ("like",)),
    (("pitcher", "pitchers"), (), ("<samekind>", "whom")),
    (("pitcher", "pitchers"), ("<top>", "<most>"), ()),
    (("season", "year"), ("",), ("<record>",)),
    (("team", "club"), ("", "the"), ("<rate>",)),
)
"""Nouns that say nothing of their own between the words before and behind them; any words where empty."""
_GROUPS = frozenset(("hitters", "batters", "players", "guys", "people"))
_PAUSES = (",", ".", ";", ":", "?", "!", "and", "but")
_VISITED = ("at", "against", "versus", "facing", "visiting", "vs", "v", "<vs>", "playing", "hosting")
_BEFORE_PITCHERS = (
    "<rate>", "<owns>", "<struggles>", "<vs>", "<than>", "<hitharder>", "hits", "hit", "hitting", "and", "or",
)
_DENIABLE = ("<rate>", "<owns>", "<cannotlayoff>", "<tough>", "<hitharder>")
_BETWEEN_DENIAL = frozenset(("really", "ever", "even", "actually", "often", "much", "truly", "been", "be",
    "to",
))
# fmt: on


def misplaced(text: Text) -> list[Word]:
    """Return the words and marks that stand beside what they cannot be said of, as a question has them."""
    return list({id(word): word for word in _found(text)}.values())


def _found(text: Text) -> Iterator[Word]:
    words = text.words
    own = _own_nouns(text)
    for place, word in enumerate(words):
        before, behind = _next(words, place, -1), _next(words, place, 1)
        if word.text in _DEGREES:
            yield from _degree(text, word, before, behind)
        elif word.text == "<hand>":
            if _of_hitters(text, word, before, pitched=bool(own & {"pitcher"})) or _led_on(
                text, word, behind
            ):
                yield word
        elif word.text == "<rate>":
            yield from _inside(text, word)
            yield from _hard_ones(text, word, behind)
            yield from _shared_out(text, behind)
            ahead = [other.text for other in words[:place]]
            if ahead[-2:] == ["and", "<who>"] and "<rate>" in ahead:
                yield word  # A second claim, even where it is of the same rate.
        elif _unexplained(words, place):
            yield word
        elif word.text == "<who>":
            yield from _at_a_club(words, place)
        elif word.text == "<steady>":
            yield from _steadily(text, word, before, behind)
        elif word.text in _DANGLING:
            if behind is not None and behind.text in ("<more>", "<most>", "<better>", "<best>"):
                yield word
            elif word.text == "to" and before is not None and before.text == "<rate>":
                yield from _to_do(behind)
        elif word.text in _GROUPS and before is not None and before.text in ("<rate>", "<more>"):
            yield word  # "Hits more batters": whom, and not how often.
        elif word.text in _NOUNS and word.text not in own and not _what_is_hit(text, word):
            yield from _noun(words, place)


def _unexplained(words: list[Word], place: int) -> bool:
    """Say whether ``when`` begins a situation that no table has in these words: ``when she is on``."""
    if words[place].text not in ("when", "whenever"):
        return False
    for word in words[place + 1 :]:
        if word.text in ("<in>", "<hand>", "<vs>", "<per>"):
            return False
        if (word.text.startswith("<") and word.text != "<who>") or word.text in _PAUSES:
            break
    return True


def _next(words: list[Word], place: int, step: int) -> Word | None:
    place += step
    while 0 <= place < len(words) and words[place].text in _SKIPPED:
        place += step
    return words[place] if 0 <= place < len(words) else None


def _own_nouns(text: Text) -> set[str]:
    """Return what those may be called of whom it is: the pitchers where it is about one, the clubs of one."""
    subjects = {person.subject for value in text.values("who") for person in value}
    subjects |= set(text.values("whose"))
    named = {"pitcher": {"pitcher", "pitchers"}, "club": {"club", "clubs", "team", "teams"}}
    if "hitter" in subjects:
        return set()
    return {noun for subject in subjects for noun in named.get(subject, ())}


def _of_hitters(text: Text, hand: Word, before: Word | None, *, pitched: bool) -> bool:
    """Say whether a hand may be that of the hitter of whom it is said, or of those who are compared."""
    if _plain(text, hand)[:2] == ["for", "a"]:
        return True  # "Hits it hard for a lefty": among lefties.
    if _leads(text, hand) or (pitched and hand.value[0] != "pitcher_hand"):
        return False
    if re.search(r"(?:^ |[,.;:] )<hand> <struggles> ", text.line()):
        return False  # "Lefties give her fits": they pitch.
    return before is None or before.text not in _BEFORE_PITCHERS


def _steadily(text: Text, word: Word, before: Word | None, behind: Word | None) -> Iterator[Word]:
    """Return the word of ``consistently hits it hard``: it may be often, or alike from game to game."""
    if before is not None and behind is not None and _is_done(text, behind):
        yield word


def _to_do(behind: Word | None) -> Iterator[Word]:
    """Return the second thing that is said to be done: the power to do it is not doing it."""
    if behind is not None and behind.text in ("hit", "make", "get", "put", "swing"):
        yield behind


def _led_on(text: Text, hand: Word, behind: Word | None) -> bool:
    """Say whether a hand stands directly before somebody or a situation, and so is what it is said of."""
    if behind is None or hand.value[0] == "hitter_side":
        return False
    if behind.text == "<who>":
        return not _leads(text, hand)
    kinds = behind.text == "<in>" and all(term.startswith("pitch_kind") for term in behind.value)
    return behind.text == "<in>" and not kinds and not _LEADING.intersection(_plain(text, behind)[:1])


def _is_done(text: Text, word: Word) -> bool:
    return word.text in ("<rate>", "<owns>") and not _OF_RATE.intersection(_plain(text, word))


def _plain(text: Text, word: Word) -> list[str]:
    return [part for place in word.places for part in fold(text.said[place]).split()]


def _leads(text: Text, word: Word) -> bool:
    """Say whether a situation begins with a word that leads to one: ``against lefties``."""
    return bool(_LEADING.intersection(_plain(text, word)[:2]))


def _degree(text: Text, word: Word, before: Word | None, behind: Word | None) -> Iterator[Word]:
    told = _plain(text, word)
    amount = bool(_AMOUNTS.intersection(told)) or told[-1:] in ([], ["to"], ["not"])
    ranked = word.text in ("<top>", "<bottom>") or text.has("top", "bottom")
    alone = behind is None or behind.text != "<rate>"
    if not ranked and (_less_of_less(text, word) or (alone and not amount and _said_twice(text, word))):
        yield word
    if behind is None:
        return
    follows = [other.text for other in _from(text.words, behind)[1:2]]
    hitters = _HITTERS.intersection(follows)
    # "They have the best contact hitter": one of theirs, and not they.
    theirs = hitters or _HITTERS.intersection((behind.text, *_plain(text, behind)))
    has = before is not None and before.text in ("has", "have", "had", "got")
    if has and theirs and word.text in ("<best>", "<most>"):
        yield word
    if behind.text in ("<in>", "<hand>") and not _leads(text, behind):
        if behind.text == "<hand>" or not (told[-1:] in (["more"], ["less"], ["fewer"]) or hitters):
            yield word
    elif behind.text == "<rate>" and not amount and word.text not in ("<top>", "<bottom>"):
        named = _plain(text, behind)
        if not _OF_RATE.intersection((*named, *follows)) and not hitters:
            yield word
    elif behind.text == "<rate>" and has and _plain(text, behind) in (["swings"], ["chasers"]):
        yield behind  # "Has more swings" counts them, and does not say how often it is done.


def _less_of_less(text: Text, word: Word) -> bool:
    """Say whether less is said of it twice: it may be less of it, or less seldom."""
    return word.value == -1 and any(
        other.value == -1 and other.text in ("<more>", "<most>", "<better>", "<best>")
        for other in _part(text, word)
    )


def _said_twice(text: Text, word: Word) -> bool:
    """Say whether more or less of it is told by another word of the same part of the sentence."""
    follows = _from(text.words, word)[1:2]
    if word.text in ("<better>", "<best>") and follows and follows[0].text == "<who>":
        return True
    return any(other.text in ("<more>", "<most>", "<better>", "<best>") for other in _part(text, word))


def _part(text: Text, word: Word) -> list[Word]:
    """Return what stands beside a word between two pauses."""
    words = text.words
    begin = end = next(n for n, other in enumerate(words) if other is word)
    while begin and words[begin - 1].text not in _PAUSES:
        begin -= 1
    while end + 1 < len(words) and words[end + 1].text not in _PAUSES:
        end += 1
    return [other for other in words[begin : end + 1] if other is not word]


def _inside(text: Text, rate: Word) -> Iterator[Word]:
    """Return what stands between the parts of a rate: it is part of what is done."""
    first, last = rate.places[0], rate.places[-1]
    for word in text.words:
        if word is rate or not first < word.at < last:
            continue
        plain = not word.text.startswith("<")
        if (
            (plain and word.text not in _INSIDE)
            or word.text in ("<best>", "<better>", "<steady>", "<not>")
            or (word.text == "<most>" and word.places[-1] + 1 != last)
            or (word.text in ("<more>", "<most>") and not _AMOUNTS.intersection(_plain(text, word)))
        ):
            yield word


def _what_is_hit(text: Text, noun: Word) -> bool:
    """Say whether a noun is the ball between the parts of a rate: ``hits balls hard``."""
    return noun.text in ("ball", "balls") and any(
        rate.text == "<rate>" and rate.places[0] < noun.at < rate.places[-1] for rate in text.words
    )


def _hard_ones(text: Text, rate: Word, behind: Word | None) -> Iterator[Word]:
    """Return the rate of ``hits hard sliders``: hard may be what the sliders are."""
    if _plain(text, rate)[-1:] != ["hard"] or behind is None or behind.text != "<in>":
        return
    if not _leads(text, behind) and behind.at == rate.places[-1] + 1:
        yield rate


def _shared_out(text: Text, behind: Word | None) -> Iterator[Word]:
    """Return the situation of ``two in three of the fouls are on sliders``: a share of what was done."""
    shares = text.has("value", "above", "below", "near")
    if not shares or behind is None or behind.text not in ("<in>", "<hand>"):
        return
    if _plain(text, behind)[:1] in (["is"], ["are"], ["was"], ["were"]):
        yield behind


def _at_a_club(words: list[Word], place: int) -> Iterator[Word]:
    """Return a club that tells where or against whom something is done, which no question has."""
    word = words[place]
    if any(person.subject != "club" for person in word.value):
        return
    ahead = [other.text for other in words[max(place - 2, 0) : place]]
    if ahead[-1:] == ["the"]:
        ahead = ahead[:-1]
        places: tuple[str, ...] = _VISITED
    else:
        places = (*_VISITED, "in")
    if ahead[-1:] and ahead[-1] in places:
        yield word


def _noun(words: list[Word], place: int) -> Iterator[Word]:
    """Return a noun that is the object of what is done, or that nothing explains where it stands.

    A noun that changes nothing stands in one of a few places: ``hits the ball hard``, ``her bat is hot``,
    ``left-handed bats``, ``in her game``.
    """
    noun = words[place].text
    before = words[place - 1].text if place else ""
    behind = words[place + 1].text if place + 1 < len(words) else ""
    if not any(
        noun in nouns and (not ahead or before in ahead) and (not follows or behind in follows)
        for nouns, ahead, follows in _IDLE_NOUNS
    ):
        yield words[place]


def _from(words: list[Word], first: Word) -> list[Word]:
    place = next((n for n, word in enumerate(words) if word is first), len(words))
    return words[place:]


def denied_elsewhere(text: Text) -> list[Word]:
    """Return the denials that do not stand directly before what is done."""
    found = []
    words = text.words
    for place, word in enumerate(words):
        if word.text not in ("<not>", "<never>"):
            continue
        behind = place + 1
        while behind < len(words) and words[behind].text in _BETWEEN_DENIAL | {"the", "a"}:
            behind += 1
        if behind == len(words) or words[behind].text not in _DENIABLE:
            found.append(word)
    return found


def on_both_sides(text: Text) -> bool:
    """Say whether one situation is told before what it is compared with, and another one behind it."""
    compared = next((place for place, word in enumerate(text.words) if word.text in _COMPARED), None)
    if compared is None:
        return False
    ahead = {word.value for word in text.words[:compared] if word.text in ("<in>", "<hand>")}
    paused = False
    for word in text.words[compared:]:
        paused |= word.text in _PAUSES
        # What is said again behind a pause is no other situation.
        if ahead and word.text in ("<in>", "<hand>") and not (paused and word.value in ahead):
            return True
    return False
