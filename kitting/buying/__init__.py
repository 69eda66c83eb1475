"""Buying: from the priced kit to what each supplier is asked for. Pure."""
