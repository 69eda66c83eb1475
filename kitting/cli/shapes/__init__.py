"""What each reading command writes with --json: one frozen dataclass a shape, and how it is made.

Lengths and other figures are text with their unit, money is decimal text, days are ISO 8601. The
schema of every shape is printed by the command itself with --schema.
"""
