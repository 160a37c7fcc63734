"""The swing, the collision and the flight: arrays in, arrays out; nothing here knows of tables.

``meeting`` and ``timing`` bring bat and ball together, ``contact`` is the collision, ``trajectory``,
``drag_lift`` and ``air`` the flight, ``flight`` the carry, ``tracking`` what is measured of it, ``one_swing``
all of it for one swing, ``margin`` for very many that miss their aim a little. ``scatter_fit`` finds the
scatter of a hitter, ``backwards`` goes from a radar's numbers back to the contact, ``bat_track`` from timed
positions to the swing, ``parks`` takes park and weather out.

``quantities`` bounds what is possible, ``fences`` are what a ball has to clear, ``bats`` the bats.
"""

import lazy_loader

__getattr__, __dir__, __all__ = lazy_loader.attach_stub(__name__, __file__)
