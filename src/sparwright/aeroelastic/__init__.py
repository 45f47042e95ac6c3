"""What the air does to a frame that gives way: divergence, reversal, flutter, from the whole frame and its masses."""
