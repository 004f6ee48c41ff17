"""Pages in the user's browser, served by a small server of our own."""
