"""The plan and its dates: network, forward and backward pass, floats, critical paths, answer dates."""
