"""Suppliers' price lists in, of any heading, file and size.

file, text, book, ods, quotes, hidden, merged      a file row by row, whatever program saved it
fields, headings, content, choice, take, by_sheet  which column means what: guessed or said
cells, marks, formats, kinds, money, steps, terms, units, size, doubt  what one cell says
rows, lesser, totals                               a row as an offer, or as a question for review
list_in                                            the whole of it, for the doors
"""
