"""What it really took, as pages of the yard: of each month, each job and each operation.

Read `site` first: which pages there are. `groups` adds up what was compared, `names` says what
things are called and where their pages are, `doubts` what is open, unbooked and decided; `months`,
`jobs` and `operations` fill the pages; `data` is the same for programs, `terminal` for a terminal.
"""
