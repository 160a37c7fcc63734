"""Other ways to say what the tables of phrases know: each is put into their words before they are looked at.

One table a slot, read in order over folded words; ``<who>`` stands for whoever is named. Some rows ask that
something else be said, too: "went cold" is a change where a day is told, and a slump elsewhere. The tables
stand by subject in the files beside this one, which has their order and what no row can say.
"""

from __future__ import annotations

import re

from hitlab.asking.colloquial import colour, put_plainly
from hitlab.asking.frames import reframe
from hitlab.asking.text import Text
from hitlab.asking.wordings_compared import COMPARED, DATED, LEADING, LEVEL, STREAKS
from hitlab.asking.wordings_rates import ALOT, RATES
from hitlab.asking.wordings_round import HEARD, OFTEN, ROUND, SHORT, WHO
from hitlab.asking.wordings_situations import REST, SITUATIONS

__all__ = ["reword", "reword_dated"]


def reword(text: Text) -> None:
    """Put other ways to say something into the words that the tables of phrases know."""
    colour(text)
    put_plainly(text)
    text.take(r"(?:very |so )?far from|nowhere near|a long way from|nothing like", "not")
    text.take(r"anything but", "anything but")
    text.reword(r"i will take(?= <who> (?:(?!and |but )[^ ,.;:<]+ ){0,2}over (?:the )?<who>)", "i like")
    if re.search(
        r" (?:more|less|fewer|often|better|worse|harder) (?:(?!and |but )[^ ,.;:]+ ){0,6}then ", text.line()
    ):
        text.reword(
            r"then(?= (?:the (?:rest of the |average |typical )?(?:league|hitter)|anyone|anybody|"
            r"everyone|everybody|"
            r"most|any other|the others|(?:the )?<who>) )",
            "than",
        )
    text.reword_all(SHORT)
    reframe(text)
    for pattern in HEARD:
        text.leave(pattern, text.heard)
    for rows in (WHO, ROUND, OFTEN, COMPARED, STREAKS, LEADING, RATES, SITUATIONS, REST):
        text.reword_all(rows)
    text.take(
        r"(?:why )?(can not|could not) (?:seem to )?<who> (hit|handle|touch|solve|catch up to)", "struggles"
    )
    text.take(
        r"(?:batters|hitters|pitchers|clubs|players|guys|people|those|anyone|anybody|someone|"
        r"others|everyone|everybody|men|kids|bats|all|<who>) "
        r"(?:like|such as|besides|other than|around|behind|alongside|but|except|near|in front of)(?= <who>)",
        "others than",
    )
    text.take(
        r"(?<=than )(?:half|(?:a|one|two|three|four|\d+) (?:third|quarter|fourth|fifth|tenth)s?|"
        r"(?:\d+|[a-z]+(?: [a-z]+)?) (?:percent|%)|\d+%|a good part|much|part|some)"
        r" (?:of )?(?:the|this|our) (?:league|hitters|batters|clubs|pitchers|others|lineup|club|"
        r"team|roster|game|players)",
        "part of the league",
    )
    text.take(
        r"(?:the )?(?:pitchers?|hitters?|batters?) (?=<who> (?:faced|faces|has faced|beat|struck|"
        r"hits(?! (?:it|the|them|balls?|hard|well)\b)))",
        "others than",
    )
    text.take(r"(?<=<who> )had been", "past")
    if re.search(r" (?:ninth|nine|9th|last|tied?|down|trailing) ", text.line()):
        text.take(r"pinch hits?|pinch hitting|pinch hitter")
    _troubled(text)
    _thrown(text)
    text.take(r"throws? samekind(?: again| right back| back)*", "samekind")
    text.take(r"no(?= <who> (?:(?:hitter|batter|player) )?)(?=.* (?:than|as) )", "nobody")
    _fooled(text)
    if re.search(r" (?:nobody|no one|no hitter|<nobody>|none) ", text.line()):
        text.reword(LEVEL, "more than")
        text.reword(r"(?:quite |just )?(?:like|the way)(?= (?:the )?<who>)", "more than")
    text.take(
        rf"{ALOT}(?! (?:more|less|better|worse|higher|lower|fewer|harder))(?: in (?:his|her|their) game)?",
        "alot",
    )


def reword_dated(text: Text) -> None:
    """Do so with what is a change only where a day is told."""
    if text.has("since"):
        text.reword_all(DATED)


def _thrown(text: Text) -> None:
    """Take what can be thrown past nobody for what is not missed, and a pitch to somebody for a situation."""
    thrown = r"(?:throw|sneak|get|blow|slip|run)"
    past = rf"{thrown} (?=(?:a|an|the|that|any) (?:(?!and |but )[^ ,.;:]+ ){{1,3}}(?:past|by) <who> )"
    text.reword(rf"(?:(?:you|they|we|pitchers) can not|(?:nobody|no one) can) {past}", "does not miss ")
    if " does not miss " in text.line():
        text.take(r"(?:past|by)(?= <who>)")
    text.reword(r"(?<=^ )(?:leave|put|keep) (?:it|one) (?=(?:up|down|low|high|inside|away|over) )", "thrown ")
    text.reword(
        r"(?<=^ )(?:throw|feed|show|serve|give|hang) (?=(?:<who>|him|her) (?:a|an|the|any|anything) )",
        "thrown ",
    )
    if text.take(r"(?<=^ )thrown"):
        for side, placed in (("up|high", "up high"), ("down|low", "down low")):
            text.reword(rf"(?<=^ )(?:{side})(?: (?:over|near|around) the plate)?(?= (?:,|and) )", placed)
        text.reword(r"and (?=(?:he|she|<who>) )", ", ")
        text.take(r"(?:(?<=<who> )|(?<=he )|(?<=she ))will")


def _fooled(text: Text) -> None:
    """Take being fooled for a miss: what follows is what is done with the next pitch."""
    past = r"(?:get|sneak|throw|blow|slip)"
    if re.search(rf" {past} (?:one|it) (?:by|past) <who> ", text.line()):
        text.reword(
            rf"(?:(?:you|they) )?(?:will|can|do) not {past} (?:a second|another|two|the next)(?: one)? "
            r"(?:by|past) (?:him|her)",
            "does not miss the next one",
        )
        if " does not miss the next one " in text.line():
            text.take(
                rf"(?:(?:you|they) (?:can|might|may) )?({past} (?:one|it) (?:by|past)) <who>", "aftermiss"
            )
            text.take(
                r"(?:, )?(?:fine|okay|sure) , but|(?:not )?in (?:the|that) same (?:at bat|plate appearance)"
            )
    if text.take(
        r"(?:you )?(fool|beat|trick|get) (?:<who>) (once|with one)(?: and)?|"
        r"(?:you )?(make) (?:<who>) ((?:miss|whiff|swing and miss|swing through one)(?: "
        r"once| one)?)(?: (?:and|,))?",
        "aftermiss",
    ) or re.search(r" (?:after|once) .*(?:miss|missed|fooled) ", text.line()):
        text.reword(r"(?:will|would) not", "does not")
        text.take(r"(?:(?<=he )|(?<=she )|(?<=<who> ))(?:will|would)")


def _troubled(text: Text) -> None:
    """Take trouble that somebody is given: of a pitcher it is being hit hard, of a hitter it may be much."""
    given = r"(?:gives?|giving|gave|given|causes?)"
    whos = text.values("who")
    text.take(rf"({given}) <who> (no|little|hardly any) (trouble|problems?|headaches?|fits)(?= ,)", "")
    if whos and all(person.subject == "pitcher" for value in whos for person in value):
        text.take(rf"({given}) <who> (more (?:trouble|problems|headaches|fits))", "hitharder")
    text.take(
        rf"({given}) <who> (?:(?:more|all sorts of|lots of|a lot of|plenty of) )?(trouble|"
        r"problems|headaches|fits)",
        "struggles",
    )
