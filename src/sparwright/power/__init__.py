"""Engine and propeller."""
