"""A price list against the catalogue, against itself and against the list before it."""
