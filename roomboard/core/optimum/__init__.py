"""The optimum: set-outs and cutting chosen together, with a bound on how far the best can be.

A sheet cut from side to side gives a *pattern* of pieces. The linear programme over set-outs
and patterns is solved by making patterns as they are needed; its value, taken from prices that
no sheet beats, is a bound that no answer can go below.
"""
