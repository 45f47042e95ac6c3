"""A frame of bars and wires in space: forces, second order, slack wires, buckling, natural modes."""
