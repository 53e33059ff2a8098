"""When the work is likely and safely finished: three-point times, simulated, and compared with what happened."""
