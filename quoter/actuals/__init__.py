"""What it really took, held against standard: variances, how good estimates are, better standards.

Read `compare` first, one short function, then `compared`: what it gives is what all that follows
reads. `standards` says what a job should have taken, `rates` at which rates of a day; `pieces` what
rows mean, `levels` at which level they can be compared, `matched` how a standard is shared among
them. `hours`, `materials` and `overhead` compare, `summaries` add up. `after` is the
after-calculation of a job; `estimates` how good the standards are (of `evidence`, by the statistics
of `samples` and `fits`); `proposals` what better standards would be (`better_times`,
`better_shares`), with their `effects`.
"""
