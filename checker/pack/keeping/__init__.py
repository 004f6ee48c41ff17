"""Compiled packs, kept in the user's cache folder so that the next run need not compile them."""
