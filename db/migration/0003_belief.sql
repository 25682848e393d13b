-- What is believed of a piece takes the place of its rung on the ladder. All of
-- standing is derived, so it is made anew. Edge, hold and peak are natural
-- logarithms, of matras/min and of days.

DROP TABLE standing;

CREATE TABLE standing (
    piece        INTEGER PRIMARY KEY REFERENCES piece ON DELETE CASCADE,
    stage        INTEGER NOT NULL, -- 0 untouched, 1 building, 2 kept, 3 slipped
    wants        INTEGER NOT NULL, -- the first day on which it may have a turn, counted from 1970-01-01, or -2147483648
    due          INTEGER NOT NULL, -- the first day on which to play it again by its interval, likewise
    last         INTEGER NOT NULL, -- day of the last play, likewise
    believed     INTEGER NOT NULL, -- day of which the belief speaks, likewise
    edge         REAL    NOT NULL,
    edge_doubt   REAL    NOT NULL,
    hold         REAL    NOT NULL,
    hold_doubt   REAL    NOT NULL,
    peak         REAL    NOT NULL,
    room         REAL    NOT NULL,
    goal         INTEGER NOT NULL, -- the piece's goal tempo
    least        INTEGER NOT NULL, -- minutes of its next turn, at least
    n            INTEGER NOT NULL, -- SM-2: repetitions since I(1)
    interval     INTEGER NOT NULL, -- SM-2: days
    ease         INTEGER NOT NULL, -- SM-2: EF in hundredths
    lost_at      INTEGER NOT NULL, -- days of the interval at the last slip
    repeated     INTEGER NOT NULL, -- day of the last play that counted for the interval, likewise
    last_tempo   INTEGER NOT NULL,
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
