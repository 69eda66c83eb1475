"""What exists: families, positions, features, parts, fits, supersession, interchange, sets, offers.

`model` and `family` say what an engine is, `trade` what is sold; the rest reads, checks and finds.
"""
