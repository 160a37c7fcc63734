"""Run the command line: ``python -m hitlab``."""

from hitlab.cli import main

if __name__ == "__main__":
    main()
