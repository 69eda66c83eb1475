"""The strip sheet: laid out, drawn, filled and read back.

layout, limits, keys, cover           which question stands in which cell
sheet_out, draw, draw_cover           the workbook as it goes to the bench
sheet_in, rows, findings, strays      the workbook as it comes back
fill                                  a sheet filled from values, for the demo and the tests
"""
