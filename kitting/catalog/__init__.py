"""What exists: families, positions, features, parts, fits, supersession, interchange, sets, offers.

model, rules, size_tables, family, trade
                             the values
files, writing, columns…     reading the text files and writing them back
check, check_…, early_references
                             whether they hang together
resolver, ways, trace, answers
                             what answers for a number today
circles, circles_across, rings
                             what leads back to where it began, in one family or across some
find, in_part, candidates, search_words, figure_words, near_numbers
                             finding a part
comparing, where_used, attributes
                             telling it from another, and where it goes
"""
