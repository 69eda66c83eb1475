"""Buying: from the kit to orders, replies and deliveries. Pure.

plan, plan_…               the cheapest sound plan over several suppliers, proved
drafting, orders, approval orders as drafted, as approved, and what may be approved
replies, standing, substitutes
                           a supplier's answer against what was asked
deliveries, drawings, arrivals, proven, delivered, turned_up
                           what came, counted and measured: what is proven, what is late
price_…                    a price list against the catalogue and the list before it
"""
