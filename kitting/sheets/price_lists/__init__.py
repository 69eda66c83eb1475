"""Suppliers' price lists in, of any heading, file and size.

file, text, book, ods, quotes, hidden, merged      a file row by row, whatever program saved it
fields, makers, headings, content, choice          which column means what: guessed, told,
take, likeness, nones, by_sheet                    remembered
asking, unclaimed, left_counts, left_money         which of the columns left are to be asked about
left_units
cells, counts, marks, formats, kinds, money        what one cell or heading says
priced_for, for_one, doubtful_size, no_counts
steps, terms, units, unit_letters, size, doubt
rows, lesser, totals                               a row as an offer, or as a question for review
list_in                                            the whole of it, for the doors
"""
