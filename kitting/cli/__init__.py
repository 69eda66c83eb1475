"""The command line: thin doors that parse, call one function and show what it returned."""
