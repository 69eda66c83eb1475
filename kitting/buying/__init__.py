"""Buying: from the kit to orders, replies and deliveries. Pure.

planning/                  the cheapest sound plan over several suppliers, proved
drafting, drafting_plan, orders, approval, again
                           orders as drafted and approved, what may be approved, what
                           was bought again
replies, agreed, standing, steps, failures, substitutes, other_numbers
                           a supplier's answer against what was asked
lateness, stage_waits, elsewhere, choices
                           what it means: for the job's dates, its stages, and in money
deliveries, drawings, arrivals, proven, here, sharing, sought, delivered, turned_up
                           what came, counted and measured: what is proven, whose it is
                           beside all else that came, what is late
going_back, spares         what may go back, and what of it is needed; what nobody needed
taking                     what lies free on the shop's shelf, and what of it a line takes
price_lists/               a price list against the catalogue and the list before it
"""
