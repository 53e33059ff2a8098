"""How one is signed in oneself, and who of the firm is: sessions, password, second factor."""
