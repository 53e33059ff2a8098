"""Tables of content/ that layouts go by: each is read once, when the program starts, as its code is."""
