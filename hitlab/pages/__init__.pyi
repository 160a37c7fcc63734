from .asking import hitter_page as hitter_page
from .asking import hitter_pages as hitter_pages
from .board import BoardList as BoardList
from .board import board_list as board_list
from .dugout import DugoutSheet as DugoutSheet
from .dugout import dugout_sheet as dugout_sheet
from .page import HitterPage as HitterPage
from .page import Section as Section
