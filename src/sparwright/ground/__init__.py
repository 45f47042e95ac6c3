"""How the aeroplane stands on the ground: clearances, wheels against the centre of gravity, turning over."""
