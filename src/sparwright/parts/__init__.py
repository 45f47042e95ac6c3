"""Every physical part (plate, bar, tube, skin, bought item) and every joint between parts."""
