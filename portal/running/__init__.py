"""How the portal is seen to run: whether it is ready, what failed, figures, and what an installation lacks."""
