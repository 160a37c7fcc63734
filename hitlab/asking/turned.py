"""Words that turn a whole claim round, or date it by what no table tells: asked back, and said to be there.

"Nobody says", "everyone but her", "used to", "outside of two-strike counts", "since the break", "over or
under": what is left without them is read by itself, and its questions are turned, where they have another
way, before any is offered. Looked at where the whole is not read.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace

from hitlab.asking.about_splits import complement
from hitlab.asking.numbers import FORTNIGHT, MONTHS
from hitlab.asking.outcome import Asked
from hitlab.asking.people import Known
from hitlab.asking.restating import named_in
from hitlab.asking.slots import hand_term, read_slots
from hitlab.asking.text import Text
from hitlab.names import fold
from hitlab.questions.question import Question

__all__ = ["turned"]

Read = Callable[[str], Asked]
_I = re.IGNORECASE
_DATED = re.compile(rf"\b(?:{'|'.join(MONTHS)})\b|\d[/-]\d", _I)
_BREAK = re.compile(
    r"\b(?:before|after|since|until|till|following|out of|off|through|prior to|by) (?:the |this |that )?"
    r"(?:all[- ]?star |mid-?season |summer )?break\b",
    _I,
)
_SAY = (
    r"(?:sa(?:y|ys|ying|id)|claim(?:s|ing)?|think(?:s|ing)?|believes?|argu(?:e|es|ing)|suggest(?:s|ing)?|"
    r"pretend(?:ing)?|swear|agree|buy(?:ing)?|sold|convinced|persuaded|sure|certain|"
    r"tell(?:s|ing)? (?:me|you|us))"
)
_NOT = r"(?: not|n't| never)"
_NOBODY = r"(?:nobody|no one|none of us)(?: here| around here)?(?:'s| is| was| has| ever| would| will)*"
_I_DO_NOT = (
    rf"(?:i|we|you|they)(?:'m|'re|'d)?(?: am| are| do| would| can?| could| did)?{_NOT}"
    r"(?: really| exactly| necessarily| even| go and| go so far as to)*|do(?: not|n't)"
)
_TOO_FAR = (
    r"(?:i |we )?refuse to|(?:it's |it is )?(?:hard|tough|impossible|unfair|silly|a stretch|a reach) to|"
    r"you(?:'d| would) be (?:wrong|lying|crazy) to"
)
_NOT_SO = (
    r"(?:i|we)(?: really| seriously|'d)? (?:doubt|dispute|deny|reject)|(?:there's |there is )?no way|"
    r"(?:it|that)(?:'s| is) (?:just |simply |plain )?(?:false|wrong|untrue|a myth|a lie)(?: to say)?"
)
_DENIES = re.compile(
    r"\s*(?:(?:well|look|so|and|but|honestly|now|sorry|no|hey),? )*(?!i (?:just )?can(?:'t|not| not) believe)"
    rf"(?P<said>(?:(?:{_NOBODY}|{_I_DO_NOT}|{_TOO_FAR}) (?:{_SAY}|(?P<call>calls?|calling|label|consider))|"
    rf"{_NOT_SO})(?: for a (?:second|minute|moment))?(?: that)?),? "
    r"(?!any|there|(?:so|it|if|whether|this|about)\b)",
    _I,
)
_DENIED_BEHIND = re.compile(
    r"(?P<rest>.+?)[,.;:?!\s–—-]+(?P<said>(?:i|we) (?:(?:would|do)(?: not|n't) (?:think|say|believe|buy)|"
    r"doubt)(?: so| that| it)?)[.!?\s]*$",
    _I,
)
_BUT = r"(?:but|except(?: for)?|other than|besides|apart from|aside from|save(?: for)?|outside of) "
_ALL_BUT = re.compile(rf"\b(?:every\w*|all|the (?:rest|others?|whole|entire))\b[^,.;:?!]*? {_BUT}", _I)
_LEFT_OUT = re.compile(
    r",? ?\b(?:(?:everything|anything|all) (?:but|besides)|"
    r"outside of|other than|except(?: for)?|apart from|aside from|excluding|not counting|"
    r"leaving out) (?P<what>[^,.;:?!]+),?",
    _I,
)
_USED_TO = re.compile(
    r"(?<!is )(?<!are )(?<!get )(?<!gets )(?<!got )(?<!'s )(?<!been )\b(?:used to(?! it\b)|"
    r"(?:(?<=^)|(?<=, ))back then|back then(?=\W*$|,)|formerly|previously|in the old days),? ?",
    _I,
)
_NO_MORE = re.compile(r",? ?(?:but|and)? ?\b(?:not (?:now|any ?more|lately)|no (?:more|longer)|now)\b", _I)
_DEGREE = re.compile(
    r"\b(?:more|less|fewer|better|worse|most|least|best|worst|than|\w+er (?=and|than))\b", _I
)
_HOTTER = re.compile(
    r"\b(?:hotter|colder)\b(?=.* than (?:(?:he|she|they) (?:was|were) )?(?:in|during|last|back|early|at) )|"
    r"\bas (?:hot|cold)\b.* as\b",
    _I,
)
_EITHER = re.compile(
    r"\b(?P<one>more|over|above|higher|better|harder) or (?:less|fewer|under|below|lower|worse|softer)\b"
    r"(?= than| often than|.*\bthan\b| \d)",
    _I,
)
_NOBODY_BUT = re.compile(
    rf"\b(?:nobody|no one|none|no (?:hitter|batter|player|pitcher|club|team|bat|man|woman))(?: else)?"
    rf"(?: \w+){{0,3}}? {_BUT}",
    _I,
)
_BESIDE = re.compile(rf"\s*{_BUT}", _I)
_THIS_TEAM = re.compile(
    r"\b(?P<it>(?:this|that|our|my|your) (?:team|club|lineup|side|squad))\b(?=.* than )", _I
)
_HAVE_OTHER_WAY = ("above", "ahead", "more", "split")


def turned(sentence: str, known: Known, read: Read) -> Asked | None:
    """Return what is asked back of a sentence that such words turn round; nothing of any other.

    Parameters
    ----------
    sentence
        As it was typed.
    known
        The table's names.
    read
        Reads what is left of it.
    """
    plain = sentence.replace("’", "'")
    if _BREAK.search(plain) and not _DATED.search(plain):
        return Asked(text=sentence, asks="no table tells when the break was: before or since which day?")
    for of in (_denied, _one_apart, _all_but, _left_out, _used_to, _hotter, _either, _this_team):
        asked = of(plain, known, read)
        if asked is not None:
            return replace(asked, text=sentence)
    return None


def _back(asks: str, said: str, offered: Iterable[Question]) -> Asked:
    different = tuple({repr(one): one for one in offered}.values())
    back = Asked(text="", asks=asks, left_out=(said,) if said else ())
    return (
        replace(back, readings=different)
        if len(different) > 1
        else replace(back, nearest=(*different, None)[0])
    )


def _other_way(questions: Iterable[Question], *kinds: str) -> list[Question]:
    return [
        replace(one, direction="less" if one.direction == "more" else "more")
        for one in questions
        if one.kind in (*_HAVE_OTHER_WAY, *kinds) and one.direction != "either"
    ]


def _denied(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer the other way of a claim that somebody does not make, and then the claim."""
    match = _DENIED_BEHIND.match(sentence) or _DENIES.match(sentence)
    if match is None:
        return None
    rest = match["rest"] if match.re is _DENIED_BEHIND else sentence[match.end() :]
    if match.re is _DENIES and match["call"] and (names := named_in(rest, known)):
        rest = rest.replace(names[0], f"{names[0]} is", 1)
    told = read(rest).choices[:2]
    if not told:
        return None
    said = match["said"].strip(" ,")
    other = _other_way(told)
    asks = (
        "the other way, or is what is denied to be checked?" if other else "is what is denied to be checked?"
    )
    return _back(f"“{said}” denies or doubts it: {asks}", said, [*other, *told])


def _one_apart(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer what is said of the one whom nobody but him does it, or of the others where one is left out."""
    alone = _NOBODY_BUT.search(sentence)
    match = alone or _BESIDE.match(sentence)
    rest = sentence[match.end() :] if match is not None else ""
    names = named_in(rest, known)
    if match is None or not names or not rest.startswith(names[0]):
        return None
    said = f"{match[0].strip()} {names[0]}"
    if alone is None:
        rest = rest[len(names[0]) :].strip(" ,")
        told = [one for one in read(rest).choices if one.who not in _labels(names[0], known)]
        asks = f"“{said}” leaves one out, which no question does: is it this with all?"
    else:
        told = list(read(f"{sentence[: match.start()]}{rest}").choices)
        asks = f"“{said}” leaves out all the others, which no question does: is it this of {names[0]}?"
    return _back(asks, match[0].strip(), told[:1]) if told else None


def _this_team(sentence: str, known: Known, read: Read) -> Asked | None:
    """Ask which club is meant by this team, where it is compared with another that is named."""
    match = _THIS_TEAM.search(sentence)
    names = named_in(sentence, known)
    if match is None or len(names) != 1 or not _labels(names[0], known, "club"):
        return None
    return Asked(text=sentence, asks=f"which club is “{match['it']}”?")


def _all_but(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer of the one who is left out what is turned round of all the others."""
    match = _ALL_BUT.search(sentence)
    rest = sentence[match.end() :] if match is not None else ""
    names = named_in(rest, known)
    if match is None or not names or not rest.startswith(names[0]):
        return None
    told = [one for one in read(f"{sentence[: match.start()]}{rest}").choices if one.kind != "ahead"]
    found = _other_way(told, "leads")
    clubs = [label for name in named_in(match[0], known) for label in _labels(name, known, "club")]
    if clubs:
        found = [replace(one, club=clubs[0]) if one.kind == "leads" else one for one in found]
        league = [one for one in found if one.kind == "above" and one.options.get("value") == "league"]
        found += [replace(one, kind="leads", options={}, club=clubs[0]) for one in league[:1]]
    if not found:
        return None
    said = f"{match[0]}{names[0]}"
    asks = f"“{said}” tells it of all the others: is it that it is the other way with {names[0]}?"
    return _back(asks, match[0].strip(), found)


def _labels(name: str, known: Known, subject: str = "") -> list[str]:
    _, people = known.named_at(fold(name).split(), 0)
    return [one.label for one in people if not subject or one.subject == subject]


def _left_out(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer the situation that is left where one is left out, if it is one; nothing else is offered."""
    match = _LEFT_OUT.search(sentence)
    if match is None:
        return None
    what = match["what"].split((named_in(match["what"], known) or [","])[0])[0]
    words = read_slots(Text.of(what), known).text.words
    if not words or any(word.text not in ("<in>", "<hand>") for word in words):
        return None
    told = [[hand_term(one.value, "hitter")] if one.text == "<hand>" else one.value for one in words]
    left = complement(told[0][0]) if len(told) == len(told[0]) == 1 else ""
    said = f"{sentence[match.start() : match.start('what')]}{what}".strip(" ,")
    rest = sentence.replace(said, "", 1).strip(" ,")
    found = (
        [replace(one, when=(left, *one.when)) for one in read(rest).choices if one.kind != "split"]
        if left
        else []
    )
    asks = (
        "is what is left meant?"
        if found
        else "what is left is no situation of one name: name those that are meant"
    )
    return _back(f"“{said}” leaves out a situation: {asks}", said, found)


def _used_to(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer what somebody once did as done less of late: no day is told."""
    match = _USED_TO.search(sentence)
    if match is None or _DEGREE.search(sentence) or _DATED.search(sentence):
        return None
    told = read(_NO_MORE.sub("", _USED_TO.sub("", sentence))).choices
    habits = [one for one in told if one.kind == "above" and one.options.get("value") == "league"]
    since = f"{known.days[1] - FORTNIGHT:%Y-%m-%d}" if known.days else ""
    found = [replace(one, kind="more", options={}, since=since) for one in habits if since]
    said = match[0].strip(" ,")
    asks = f"“{said}” tells of a time and of no day: since which day is it no longer so?"
    return _back(asks + " What is offered is of the last fortnight." * bool(found), said, _other_way(found))


def _hotter(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer whether somebody is hot, and nothing of the days with which it is compared."""
    names = named_in(sentence, known)
    if not _HOTTER.search(sentence) or not _DATED.search(sentence) or len(names) != 1:
        return None
    asks = "hot is asked of the last games, and compared with no other days: is it that?"
    return _back(asks, "", read(f"{names[0]} is hot").choices)


def _either(sentence: str, known: Known, read: Read) -> Asked | None:
    """Offer both ways where it is asked which of them it is: over or under .250."""
    match = _EITHER.search(sentence)
    told = list(read(_EITHER.sub(match["one"], sentence)).choices[:1]) if match is not None else []
    other = _other_way(told)
    return _back("more often, or less often: which?", match[0], [*told, *other]) if match and other else None
