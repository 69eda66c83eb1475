"""The sums, each with its source: pure functions of quantities, one subject a module.

regrind, regrind_group, rebore     the size that metal cleans up at
clearance, clearance_spread        oil clearance, and the band that gives it
bush, bush_ream, materials         pressing in, heat, reaming to suit
shims, thrust                      stacks for a float; washers by table
spring, spring_rig, spring_verdict rate, load, stress; which spring it is
thread…, nuts                      forms, series, what a thread most likely is
fits                               ISO 286
film                               what a clearance does to the oil film
seal, o_rings, rolling             sizes and designations
grades, band, form_limits, sizes   what the sums share
"""
