"""Paper: what a report says, how it looks, and the file that comes of it."""
