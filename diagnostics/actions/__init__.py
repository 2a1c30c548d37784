"""Every write of the bench, one verb each."""
