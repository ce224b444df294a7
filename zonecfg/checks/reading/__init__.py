"""Reading: faults that the document and the schema find; these files hold their help."""
