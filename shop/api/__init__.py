"""The shop over HTTP for programs: thin, on the same actions and selectors."""
