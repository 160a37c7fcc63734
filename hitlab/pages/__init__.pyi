from .asking import hitter_page as hitter_page
from .asking import hitter_pages as hitter_pages
from .page import HitterPage as HitterPage
from .page import Section as Section
