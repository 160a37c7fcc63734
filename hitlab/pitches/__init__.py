"""The pitch table: its columns, how one is read, checked, saved and opened again.

Reading a file: ``sources``, ``gathering`` and ``joining`` (files and sheets as one source), ``unpacking`` and
``workbooks``, ``textfiles`` and ``streams`` (files block by block); ``mapping``; ``preparing`` (before cells
are judged: ``filling``, ``slips``); ``rosters``, ``games`` and ``numbering`` (by judged values), ``speeds``
(two units in one column), ``lookalikes`` (one name in two ways); ``telling``, ``drafting`` and
``drafted_columns`` (by ``heading_words``, ``chart_words``, ``words_abroad``, ``in_shapes``; ``suggesting``
for words nobody knows). Files larger than memory: ``reading_into``, ``pieces``, ``kept_blocks`` (cells
between two looks). Believing it: ``consistency``, ``sense`` (in the order of play), ``coded`` (each column
of text looked through once, for all who ask), ``doubts``. What is kept: ``storing``, ``sealing``, ``parts``
(what a table remembers of each reading), ``season_folder`` (saved tables as one), ``kept_files`` (what was
worked out of them), ``seen`` (what names, days and speeds show, part by part). The order of pitches:
``counting`` in memory, ``in_order`` by an engine.

What holds them together, for whoever changes one:

- Files and sheets are parts of one ``Source``. Its rows are numbered through, and ``where`` gives file, sheet
  and row back; whoever names a row calls ``row_name`` or ``placed``.
- A workbook is unpacked within bounds and looked at in ``unpacking``; its parser gets those bytes and no
  others.
- What changes cells before they are judged happens in ``preparing``, only where a mapping says so (merged
  cells of what is written once apart), and is said. What would help is a proposal in the report and a line in
  the draft. What is written between quotation marks in TOML goes through ``in_toml``.
- What reading leaves in doubt is one ``Doubts``, which goes with the table into the saved file's mark,
  counts, claims and cards. A check is a function, a word in ``CHECKS``, a line in ``SUSPECTS`` and one in
  ``_ASKED``. Rows without numbers are held against those before them only where ``order_of_play`` finds that
  they show to be whole and in order.
- A saved table remembers each reading game by game (in its mark, under ``hitlab_parts``), and its own mark
  is their sum: a season in parts answers as one reading of all its files. What its names, days and speeds
  show (``Seen``, which adds up) is told beside the mark, so that who opens a folder looks at none of them;
  another form of it takes another name than ``storing.SEEN``. Whoever writes a checked table calls
  ``write_parts``; what a report newly says that answers have to know goes into ``Part``, or into ``Odd``
  where it is of the whole table. Its checksums are verified before a cell is read.
- Who puts a file into a folder of saved tables, or takes one away, is noticed by ``demand_unchanged``.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
