"""Who sits in the cockpit: fit, reach, view, straps, the way out, head and knees in a crash."""
