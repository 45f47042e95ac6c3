"""Every member and joint of the frame against what it can carry."""
