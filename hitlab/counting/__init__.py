"""Counts and plain rates: what a swing is, how pitches become counts, and a rate with its interval.

``events`` says every count once, of the ``facts`` of a pitch; ``ledger`` tells row by row; ``tallies`` counts
pitches by hitter, game or anything else, by sums in ``summing``, from ``kept_counts`` of a folder's parts
where it can, and whole saved tables by their codes (``scanning``); ``own_events`` and ``own_counts`` are the
caller's own, ``hardness`` what a hard ball was told by. ``situations``, ``places`` and ``days`` choose
pitches. ``counts`` is the table that everything further on takes; ``rates`` and ``intervals`` make rates of
it; ``looks`` keeps count of how many comparisons were looked at; ``finding`` finds who is named.

The one step that touches every row is ``cells`` in ``summing``: rows are reduced to a few whole numbers,
grouped with the caller's keys, and the rules of ``events`` are then weighed once a combination of facts. It
is written once against narwhals; six engines give equal int64 counts. On Dask and Spark, where each question
is a job, a tally counts once by all that it will ask (``Gathered``),
by more than one key on Dask in sums (``sums_there``); Dask groups each partition by itself, looked at as
it is read (``looked_at``), and then along a tree: what
narwhals asks of it goes from every process to every other, and failed between processes. Whoever brings a
table home calls ``collected``, which ``brought_home`` listens to; who looks at single pitches calls
``demand_here``; what is compared with a number is looked at by ``value_kinds``. ``tally`` takes kept counts
for a whole folder without own events, chosen at most by columns that are kept, and counts plainly where
nothing can be written: by the codes of the files where these are whole and groups are few, else by the
engine. Both end in ``Counted``, pitches by group and kind.

What comes home from an engine, by computation:

- ``tally``, form, dependence and half weights (by game and day), outcome and base-out rates: a row a group.
- ``splits.situation_counts``, ``all_splits``, ``check_split``: a row a hitter, a column a situation and
  count.
- ``with_previous``, ``rebuild_count``: nothing, a frame of the same kind; ``sequence_faults``: the plate
  appearances set aside.
- ``after_whiff``, ``check_response``: the compared pitches, as numbers (a third of all, 44 bytes each).
- ``fastball_readiness``: counts by stratum, and the tries of the measure.
- who met whom (``meetings``, ``sides``): a row a combination; doubts of a table: what ``Seen`` adds up.
- cut lists, patterns, the strip of a plate appearance, ``contradictions``, the eye and chart tools look at
  single rows: a table in memory, or one file.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
