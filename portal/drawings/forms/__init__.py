"""The pictures in which a kind's lengths are written where they are measured."""
