"""The build's folder: records, head, attachments, lock."""
