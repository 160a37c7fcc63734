"""From whose side something is said: turned round where others do it, or where the other way is denied.

Read closely and softly alike.
"""

from __future__ import annotations

import re

from hitlab.asking.text import END, Rows, Text

__all__ = ["DEGREES_TURNED", "EVERY_ONE", "HIM", "everybody", "put_sides_plainly", "turn"]

DEGREES_TURNED = {
    "lower": "higher",
    "less": "more",
    "fewer": "more",
    "smaller": "higher",
    "higher": "lower",
    "more": "less",
    "greater": "lower",
    "bigger": "lower",
    "harder": "softer",
}
_DEGREES = "|".join(DEGREES_TURNED)
EVERY_ONE = "everysingleone"
"""The word for "everybody does", of whom it may not be meant to the last one."""
_OPENS = re.compile(
    r" (?:not|never|nobody|no|none|hardly|barely|scarcely|rarely|seldom|doubts?|if|whether|does|do|did|is|"
    r"are|was|has|have|can|could|will|(?<!i )would|show|name|find|finding|know|wonder|without|than) "
)
"""With one of these, "anybody" asks or denies; without, it is everybody: "anybody whiffs less than her"."""
_TAKEN_BACK = rf"(?:, )?(?:and )?(?:not|never) (?:more|less|fewer|higher|lower)(?: often)?{END}"
HIM = rf"(?:(?:the )?<who>|(?:he|she|they|him|her|them)(?: (?:does|do|is|are|has|have))?{END})"
"""Somebody who stands behind "than": named there, or before."""
_LESS = "(?:less|fewer|lower)"
_BOTH = re.compile(rf" (?:more|higher) .*(?:not|never) {_LESS} | {_LESS} .*(?:not|never) (?:more|higher) ")
_SELDOM: Rows = ((r"as (?:seldom|rarely|little|infrequently) as", "less than"),)
_EXCEEDS: Rows = ((r"(?<=rate )(?:exceeds|tops|beats|surpasses)(?= (?:the )?<who>)", "is higher than"),)
_ONE = r"(?:hitter|batter|player|pitcher|club|team|guy|man|woman|bat|arm)"
_KIN = r"(?:everybody|everyone) and (?:his|her|their) [a-z]+"
_WITHIN = r"(?: (?:in|on|of) (?:(?:the|this|that|our) )?(?:league|club|team|<who>))?"
_EVERY = rf"everybody|everyone|(?:every|each)(?: other)? {_ONE}|all (?:the )?(?:others|(?:other )?{_ONE}s)"
_ALL = rf"(?:{_EVERY})(?: else)?"
_ANY = rf"(?:any(?:body|one)(?: else)?|any(?: other)? {_ONE})"


def turn(text: Text) -> None:
    """Turn the one degree of a sentence round."""
    for word in text.words:
        text.respell(word, DEGREES_TURNED.get(word.text, word.text))
    text.reword("softer", "less hard")


def put_sides_plainly(text: Text) -> None:
    """Leave out the degree that is taken back (more, not less), and put "as seldom as" into less than."""
    if _BOTH.search(text.line()):
        text.leave(_TAKEN_BACK)
    if re.search(" (?:nobody|no|none|not) ", text.line()):
        text.reword_all(_SELDOM)
    text.reword_all(_EXCEEDS)


def everybody(text: Text) -> None:
    """Take "everybody and his brother has a lower rate than he has" for nobody has a higher one.

    A plain "everybody has" may be meant or not, nor "anybody has" where it is stated: it is offered, and
    stands as a word that nothing explains.
    """
    behind = rf"(?= (?:[^ ,.;:<]+ ){{0,5}}(?:{_DEGREES}) (?:[^ ,.;:<]+ ){{0,4}}than {HIM}(?: |$))"
    if len(re.findall(rf" (?:{_DEGREES})(?= )", text.line())) != 1:
        return
    plain = _ALL
    before = re.split(r" any(?:body|one)? ", text.line())[0]
    if not (_OPENS.search(f"{before} ") or " ? " in text.line()):
        plain = rf"(?:{_ALL}|{_ANY})"
    for said, told in ((_KIN, "nobody"), (plain + _WITHIN, f"nobody {EVERY_ONE}")):
        if re.search(rf"(?<= ){said}{behind}", text.line()):
            text.reword(said + behind, told)
            turn(text)
            return
