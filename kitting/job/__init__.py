"""The stages of a job, pure at the core; `path.walk` takes them in order.

strip        what the sheets and the bench say, and where two people differ
verdicts     what follows for each position (assess, fitted, told_apart)
consequences what else that demands
sizes        the grade of each journal and bore (present, machining, targets, bush_sizes,
             pin_bores, float_shims, thrust_washers)
kit          lines, sets, machining (sourcing, kit_merging, sets, readiness)
estimate     prices, labour, VAT (pricing, labour, approval)
counting     how many of a kit line's pieces those of another part make
bags, shelf  what is in hand, and what may be built
build        figures at assembly against the plan
"""
