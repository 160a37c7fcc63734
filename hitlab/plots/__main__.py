"""Draw every picture and card of the demo season: ``python -m hitlab.plots --to FOLDER``."""

from importlib import import_module

if __name__ == "__main__":
    # Cards stand above pictures in the package's layers; the pictures themselves know nothing of them.
    import_module("hitlab.evidence.gallery").main()
