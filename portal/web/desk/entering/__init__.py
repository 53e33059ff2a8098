"""Who somebody is: by password and code, at the door or beside a form whose session has ended."""
