"""Checking, in words. A function `check_...` raises a Fault with the first thing that does not hold; a function
`verify_...` never does: it returns a Verdict, what holds and the first thing that does not."""
