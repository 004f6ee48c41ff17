"""Questions that run the inspection many times: of one car, a fleet, a pack's own cases, a change of rules, a plan."""
