"""Stock of the other market in place of what a model is made of."""
