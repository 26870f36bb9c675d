"""The site's own search: what a text says as tokens, what a kit says as a record, and all records as an index in parts."""
