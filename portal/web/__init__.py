"""The form skin: the public pages, the homeowner's link, the desk."""
