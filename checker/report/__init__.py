"""What is told of an inspection: one versioned document first, which everything else only renders.

    document      inspection -> plain data, as `checker inspect --format json` prints it
    explanation   the same for one clause, with the numbers that went in and where each was read
    text, fleet, explain   the documents as text for people
    book, blank   a pack in words; a blank declaration for it
    rulebook      a pack as Markdown, to print
    affected, sweep, calendar, since   the studies of those names, as documents and as text

Nothing here judges: outcomes, margins and acts come from the kinds and the verdict.
"""
