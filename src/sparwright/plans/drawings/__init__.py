"""The drawing set: one file a drawing, each from parts and joints, none redrawn by hand."""
