"""Kitting: from the inspection of a stripped engine to one order that is right."""
