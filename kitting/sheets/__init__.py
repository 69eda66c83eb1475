"""Workbooks, labels and pictures, out and in; it knows nothing of the database.

strip/         the strip sheet: layout, writing, reading back, filling
jobs/          what goes out of a job
orders/        an order's sheet and its reply, the open standards' words for it, and the parcel's
build/         the build sheet, out and in
families/      a family of the catalogue as a workbook, out and in
price_lists/   suppliers' price lists in
label…, pictures/, trace_…
               bag labels; pictures of wear, sizes and clearances; a part's tree
ods, ods_book  an OpenDocument sheet row by row, and as the workbook that it was made from
style, page, outgoing, files, cells, tables, words, money, cautions
               what they share; text from a person goes through `style.put_text`
"""
