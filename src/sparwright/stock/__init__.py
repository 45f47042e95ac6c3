"""From parts to stock: cut lists, nests, bill of materials, outlines for a router."""
