package shopfile

// readme is the text beside the files of a folder.
const readme = `What this shop keeps, one file for each noun.

Only what stands is here: a record that was corrected says what it says now, one that
was taken back is left out. The ledger keeps every step of it.

entry    numbers what was said, in the order it was said, from 1
by       who said it; entry, by and said_at are empty for what came with an import
said_at  when it was said, in UTC
now      the state of a task, a find, a part, an extra or a snag today; state is the
         one it came in with, and what became of it since is in task_starts,
         find_closings and their like. Nobody needs to fill now in: what is read has
         to agree with it, though
sent     of a reminder: it was told; of a coat: what of it was, and for when. What else
         was told is in notices_sent: of a part for the day it was due, and to a lead
         for the morning. None of it is told again
photos   that came with the message: the SHA-256 of the content (a hyphen when it was
         not kept) and the name; the content is in the photos folder beside the ledger

at of a coat or a reminder is local, as 2026-03-10T14:00; where that would not be
exact it is in UTC.

In CSV files a list is one cell, with a semicolon and a space between; a backslash goes
before a semicolon or a backslash of an item itself. A cell that begins with = + - @ '
or a tab, and is no number, has an apostrophe before it, which a spreadsheet then does
not take for a formula; it is taken off when the file is read.

A new data folder can begin with these files:

    go run ./server -data NEW -import FOLDER
`
