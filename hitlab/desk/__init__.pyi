from .page import Desk as Desk
from .page import open_desk as open_desk
from .sheet import notebook_text as notebook_text
