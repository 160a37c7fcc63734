from .charters import Charters as Charters
from .charters import compare_charters as compare_charters
from .corrected import Corrected as Corrected
from .corrected import correct_rates as correct_rates
from .corrected import corrected_interval as corrected_interval
from .eye import EyeAgainstRadar as EyeAgainstRadar
from .eye import eye_against_radar as eye_against_radar
