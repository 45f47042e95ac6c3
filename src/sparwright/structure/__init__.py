"""The frame of the whole aeroplane out of parts and joints; loads laid on it, inertia against them."""
