"""What a request has in either skin: the settings and the publisher, and the session of a member of staff."""
