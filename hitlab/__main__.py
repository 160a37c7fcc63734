"""Run the command line: ``python -m hitlab``."""

from hitlab.cli.commands import main

if __name__ == "__main__":
    main()
