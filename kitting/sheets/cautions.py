"""What every sheet says at its foot where a figure can hurt someone."""

AIDS = (
    "The figures here are aids: the maker's manual and a competent engineer come first. "
    "Local rules and licensed practice apply."
)
ROTATING = "Crack-test whatever rotates before money is spent on it, and before it runs again."
BITES = (
    "Heat, presses and springs bite: gloves, eye protection, guards, and nobody in line with them."
)
HAZARDS = (
    "Used oil harms the skin. Old gaskets and linings may hold asbestos: lift them wet, never blow "
    "or wire-brush, and bag them."
)
LEFT_HAND = "Mark left-hand threads before anyone reaches for a bar."

CUSTOMER = (AIDS, ROTATING)
SUPPLIER = (
    "Please put no other part in the place of one asked for without our word: a part that goes in "
    "may still be the wrong one.",
)
MACHINIST = (ROTATING, BITES, AIDS)
STORES = (HAZARDS, AIDS)
BENCH = (LEFT_HAND, ROTATING, BITES, HAZARDS, AIDS)
