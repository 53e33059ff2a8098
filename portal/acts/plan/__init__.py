"""The plan: phases, their starts and finishes, what comes between, what they take, and plans to start from."""
