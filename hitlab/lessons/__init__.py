"""Lays out copies of the lessons, and brings older copies up to date; ``hitlab lessons`` is its command."""
