"""Write the demo's files: ``python -m hitlab.league data_demo``."""

import sys

from hitlab.league.demo import make_demo

if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("Name one folder for the demo's files: python -m hitlab.league data_demo")
    for file in make_demo(sys.argv[1]):
        print(file)
