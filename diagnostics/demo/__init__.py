"""The demo: an invented workshop, filled through the same actions that people use.

Nothing here is used outside the demo and the tests. Names, makes and faults are made
up; each bike has one hidden fault, so that a meter held to it can be answered.
"""
