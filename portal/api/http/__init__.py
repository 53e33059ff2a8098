"""How the API speaks HTTP: who sends, versions, repeated requests, pages of a list, problems, shared fields."""
