from .cards import card as card
from .cards import game_dates as game_dates
from .cards import read_card as read_card
from .cut_lists import CutList as CutList
from .cut_lists import cut_list as cut_list
