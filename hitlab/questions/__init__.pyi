from .kinds import KINDS as KINDS
from .kinds import Kind as Kind
from .of_season import season_fit as season_fit
from .question import About as About
from .question import Direction as Direction
from .question import Question as Question
from .question import Subject as Subject
