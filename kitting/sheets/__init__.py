"""Workbooks, labels and pictures, out and in; it knows nothing of the database.

strip_…        the strip sheet: layout, writing, reading back, filling
customer_estimate, works_sheet, pick_list, job_book, supplier_order, papers
               what goes out of a job
order_…, reply_boxes, written_over
               an order's sheet and its reply, and the order in the open standards' words
delivery_…     the sheet that a parcel is counted on
build_…        the build sheet, out and in
family_…       a family of the catalogue as a workbook, out and in
price_list_…   suppliers' price lists in
label…, pictures/, trace_…
               bag labels; pictures of wear, sizes and clearances; a part's tree
ods, ods_book  an OpenDocument sheet row by row, and as the workbook that it was made from
style, page, outgoing, files, cells, tables, words, money, cautions
               what they share; text from a person goes through `style.put_text`
"""
