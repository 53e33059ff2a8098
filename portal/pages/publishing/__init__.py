"""Putting pages on disk: the site, its links, and when each page is written anew."""
