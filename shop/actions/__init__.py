"""Every write to the shop: keyword-only, one transaction, one history row."""
