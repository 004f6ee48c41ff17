"""Questions that run the inspection many times: whom a change hurts, where a limit bites, what lapses when.

    comparison   what a change of the rules is, clause by clause
    affected     whom it affects: one car by both packs; tally adds up a fleet, narrowing leaves out what cannot differ
    sweep        how many cars fail at each value of a number; varied puts the number into the pack
    calendar     what lapses through a season's meetings
    since        what changed for a car since a report that was kept
    cases        a pack's own cases, what they cover and how strong they are

`fleet` hands over declarations one by one, however many.
"""
