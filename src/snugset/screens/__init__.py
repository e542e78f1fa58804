"""The Textual front end over the same guide."""
