"""Questions that run the inspection many times: whom a change hurts, where a limit bites, what lapses when."""
