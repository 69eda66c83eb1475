"""What exists: families, positions, features, parts, fits, supersession, interchange, sets, offers.

model, family, trade         the values
files, writing, columns…     reading the text files and writing them back
check, check_…               whether they hang together
resolver, ways, trace        what answers for a number today
find, candidates, comparing, where_used, attributes
                             finding a part and telling it from another
"""
