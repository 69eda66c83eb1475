"""The build sheet: what is measured at assembly, out and in, in the strip sheet's manner."""
