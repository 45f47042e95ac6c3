"""Pictures: small charts of the air work, drawn with the same strokes and the same look as the sheets."""
