"""An order's papers, out and in.

supplier_sheet, boxes, keys           the workbook that goes to a supplier
reply, reply_boxes, rows, headings, shown, struck, written_over
                                      the same workbook when it comes back
beside, ours, formulas                what stands on it besides, held against what was printed
as_csv, order_x, ubl, codes           the order as plain text and in the open standards' words
delivery_sheet, delivery_in           the sheet that a parcel is counted on
"""
