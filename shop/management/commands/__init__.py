"""Commands of the shop for `manage.py`."""
