"""Input of strangers: files, readings, journals, backups, and where their text comes out."""
