"""What people do. One act, one function, one transaction, one named error for each refusal."""
