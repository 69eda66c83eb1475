"""Pictures of a job's wear, tolerances and clearances, drawn with matplotlib.

What lives here only draws: figures become binary floats on their way to the paper and never come
back. Load these modules inside the function that draws, so that nothing else waits for matplotlib.
The same job gives the same bytes. No colour carries a meaning: lines, marks and hatching differ.
"""
