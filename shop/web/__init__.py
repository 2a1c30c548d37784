"""Pages: each view reads a form, calls one action or selector, and answers."""
