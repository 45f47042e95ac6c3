"""Category checks: they compare, they do not compute."""
