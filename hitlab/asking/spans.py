"""Days that are told by what was before or after them, put plainly: once April was over, since May 1.

Read closely and softly alike; halves of a season, of which no table tells where it ends, softly only.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from itertools import pairwise

from hitlab.asking.numbers import MONTHS
from hitlab.asking.sides import DEGREES_TURNED, turn
from hitlab.asking.text import END, Rows, Text
from hitlab.spoken import ORDINALS

__all__ = ["halves", "put_days_plainly"]

_DEGREES = "|".join(DEGREES_TURNED)
_MONTH = "|".join(MONTHS)
_NO_DAY = (
    rf"(?! (?:the )?(?:\d|{'|'.join(ORDINALS)}|twent|thirt|came|began|started|rolled|hit|turned|arrived))"
)
_OVER = r"(?:(?:was|is|had|has) )?(?:over|done|out|ended|gone|behind (?:him|her|them|us)|finished|closed)"
_ENDED: Rows = tuple(
    (
        rf"(?:(?:ever )?(?:once|after|when|since|with)|(?:from )?the (?:moment|minute|second|day|"
        rf"instant)(?: that)?) "
        rf"(?:the end of )?{month} {_OVER}|"
        rf"(?:after|since) the end of {month}|(?<!right )(?<!day )(?:after|past) {month}{_NO_DAY}",
        f"since {following} 1",
    )
    for month, following in pairwise(MONTHS)
)
_BEFORE = (
    r"(?:before|prior to|until|till|up to)"
    rf"(?= (?:[^ ,.;:]+ ){{0,3}}?(?:{_MONTH}|\d{{4}}-\d\d-\d\d|\d\d?/\d\d?) )"
)
_THROUGH: Rows = tuple(
    (rf"(?:through|all through) {month}{_NO_DAY}", f"before {following} 1")
    for month, following in pairwise(MONTHS)
)
_THAN_AFTER = (
    r"than (?:(?:he|she|they|it|<who>) )?(?:(?:did|has|have|was|is|does|do) )?"
    rf"(?:after(?:wards?)?|since|later)(?: (?:that|then|it))?{END}"
)


def put_days_plainly(text: Text) -> None:
    """Put a month that is over into the day behind it, and more before May 10 than after into less since."""
    text.reword_all(_ENDED)
    if re.search(rf"(?<= ){_THAN_AFTER}", text.line()):
        text.reword_all(_THROUGH)
    line = text.line()
    one = len(re.findall(rf" (?:{_DEGREES})(?= )", line)) == 1
    if one and all(re.search(rf"(?<= ){part}", line) for part in (_BEFORE, _THAN_AFTER)):
        text.reword(_BEFORE, "since")
        text.reword(_THAN_AFTER, "than before")
        if " not " not in line:  # "Not more before than after" is asked back, and not less.
            turn(text)


def halves(text: Text, days: tuple[datetime, datetime] | None) -> None:
    """Take the halves of a season for those of the days of a table, which are said where they are offered."""
    if days is None or not re.search(" (?:season|year) ", text.line()):
        return
    last = days[0] + (days[1] - days[0]) // 2
    of = r"(?: of (?:the|this|his|her|their|our) (?:season|year))?"
    led = r"(?:(?:in|during|over|through|throughout|for|of) )?(?:the )?"
    first, second = rf"{led}(?:first|opening|front)", rf"{led}(?:second|back|latter|other)"
    behind = rf"{last + timedelta(days=1):%Y-%m-%d}"
    if re.search(rf" than {second}(?: half)?{of}{END}", text.line()):
        text.reword(rf"{first} half{of}", f"before {behind}")
        text.reword(rf"than {second}(?: half)?{of}{END}", "than after")
    text.reword(rf"than {first}(?: half)?{of}{END}", "than before")
    text.reword(rf"{first} half{of}", f"until {last:%Y-%m-%d}")
    text.reword(rf"{second} half{of}", f"since {behind}")
