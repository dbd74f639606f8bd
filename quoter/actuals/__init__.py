"""What it really took, held against standard: variances, how good estimates are, better standards.

Read `compared` first: it is what all that follows reads. `standards` says what a job should have
taken, `levels` at which level what was booked can be compared, `hours`, `materials` and `overhead`
compare, `summaries` add up. `after` is the after-calculation of a job, `estimates` how good the
standards are (of `evidence`, by the statistics of `samples` and `fits`), `proposals` what better
standards would be (`better_times`, `better_shares`), with their `effects`.
"""
