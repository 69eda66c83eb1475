"""A family of the catalogue as a workbook, out and in."""
