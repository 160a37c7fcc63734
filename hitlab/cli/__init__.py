"""The command line: ``commands``, ``checks`` for claims; they share ``options``, ``once`` and ``console``."""
