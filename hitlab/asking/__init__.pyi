from .asked import Asked as Asked
from .asked import ask as ask
from .people import Known as Known
from .people import Person as Person
