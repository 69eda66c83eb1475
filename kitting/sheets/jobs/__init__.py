"""What goes out of a job: the estimate, the works sheet, the pick list, the job's book.

`papers` writes them all.
"""
