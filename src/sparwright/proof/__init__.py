"""The proof-load test that a builder carries out before the first flight: bags, trestles, what is to be expected."""
