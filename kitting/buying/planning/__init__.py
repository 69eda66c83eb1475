"""The buying plan: the cheapest sound order over several suppliers, proved.

demand                                what is wanted and offered: the problem
tables, options, conditions           the same in whole numbers
model, cover, surplus, trim           the program that a solver is given
plan, solver, head_start, ties        the plan of each aim
values, shares, reasons               what a plan says, job by job, and why
clash, left_out                       why there is none, and what to go without
of_jobs                               one plan over several jobs
"""
