"""Who of the household answered what, in words that the page, the desk and letters share."""
