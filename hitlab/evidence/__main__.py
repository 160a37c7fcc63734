"""Draw every picture and card of the demo season: ``python -m hitlab.evidence --to FOLDER``."""

from hitlab.evidence.gallery import main

if __name__ == "__main__":
    main()
