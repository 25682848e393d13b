-- What is believed of a piece takes the place of its rung on the ladder. All of
-- standing is derived, so it is made anew. Edge, hold and peak are natural
-- logarithms, of matras/min and of days.

DROP TABLE standing;

-- stage: 0 untouched, 1 building, 2 kept, 3 slipped. wants: the first day on which
-- it may have a turn; due: the same by its interval; last: of the last play;
-- believed: of which the belief speaks; repeated: of the last play that counted
-- for the interval. These are days counted from 1970-01-01, or -2147483648.
-- goal: the piece's goal tempo. least: minutes of its next turn, at least. n,
-- interval and ease are SM-2's: repetitions since I(1), days, EF in hundredths.
-- lost_at: days of the interval at the last slip. It stands here and not in the
-- table, for all that SQLite keeps of tables is to stay within the first page.
CREATE TABLE standing (
    piece INTEGER PRIMARY KEY REFERENCES piece ON DELETE CASCADE,
    stage INTEGER NOT NULL,
    wants INTEGER NOT NULL,
    due INTEGER NOT NULL,
    last INTEGER NOT NULL,
    believed INTEGER NOT NULL,
    edge REAL NOT NULL,
    edge_doubt REAL NOT NULL,
    hold REAL NOT NULL,
    hold_doubt REAL NOT NULL,
    peak REAL NOT NULL,
    room REAL NOT NULL,
    goal INTEGER NOT NULL,
    least INTEGER NOT NULL,
    n INTEGER NOT NULL,
    interval INTEGER NOT NULL,
    ease INTEGER NOT NULL,
    lost_at INTEGER NOT NULL,
    repeated INTEGER NOT NULL,
    last_tempo INTEGER NOT NULL,
    last_clarity INTEGER NOT NULL
) STRICT;

-- All that ranking a day reads, in the order in which pieces may want a turn.
CREATE INDEX standing_claim ON standing
    (wants, stage, due, last, believed, edge, edge_doubt, hold, hold_doubt, peak, goal, least);

-- Times without practice. The minutes of each weekday are settings, named
-- minutes_1 for Monday to minutes_7.

CREATE TABLE absence (
    first TEXT PRIMARY KEY,
    last  TEXT NOT NULL CHECK (last >= first)
) STRICT;

-- A play may have hurt, have been spoken and not played, or be of one line
-- alone, 0 for the whole. A standing knows when its piece was last spoken, a day
-- counted as the others. SQLite keeps the text of columns on the first page of
-- the file, which must hold them all for a damaged file to be saved.

ALTER TABLE play ADD COLUMN sore INTEGER NOT NULL DEFAULT 0;
ALTER TABLE play ADD COLUMN spoken INTEGER NOT NULL DEFAULT 0;
ALTER TABLE play ADD COLUMN line INTEGER NOT NULL DEFAULT 0;
ALTER TABLE standing ADD COLUMN spoken INTEGER NOT NULL DEFAULT -2147483648;

-- Concerts and their sets. talas are names, parted by a line's end; note is what
-- happened; nth is the place in the set; rounds and minutes are 0 where they
-- were not given.

CREATE TABLE concert (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    folded TEXT NOT NULL UNIQUE,
    day TEXT NOT NULL,
    minutes INTEGER NOT NULL,
    talas TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT;

CREATE TABLE place (
    concert INTEGER NOT NULL REFERENCES concert ON DELETE CASCADE,
    nth INTEGER NOT NULL,
    piece INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE,
    tempo INTEGER NOT NULL,
    rounds INTEGER NOT NULL,
    minutes INTEGER NOT NULL
) STRICT;
