"""The command line: ``commands`` and, for claims, ``checks``; ``options`` they share; ``console`` prints."""
