"""Suppliers' price lists in, of any heading, file and size.

file, text, book, ods, quotes, hidden, size   a file row by row, whatever program saved it
fields, makers, headings, content, choice     which column means what: guessed, told or remembered,
take, unclaimed                               and which are taken, which is to be asked about
cells, counts, marks, formats, kinds, money, steps, terms, units  what one cell says
rows, lesser, totals                          a row as an offer, or as a question for review
list_in                                       the whole of it, for the doors
"""
