"""A house at the desk: the list of all, the page to run one from, setting up, handing over."""
