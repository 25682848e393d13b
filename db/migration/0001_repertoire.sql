-- What the player keeps and what was played are the truth; standing is derived
-- from them and can be rebuilt at any time. Days are written YYYY-MM-DD, but in
-- standing they are counted from 1970-01-01, for many are read at once. Tempos
-- are in matras/min.

CREATE TABLE piece (
    id      INTEGER PRIMARY KEY,
    title   TEXT    NOT NULL,
    folded  TEXT    NOT NULL UNIQUE, -- the title as it is compared and looked for
    kind    TEXT    NOT NULL,
    tala    TEXT    NOT NULL,
    start   INTEGER NOT NULL CHECK (start BETWEEN 20 AND 400),
    goal    INTEGER NOT NULL CHECK (goal BETWEEN start AND 400),
    after   INTEGER REFERENCES piece ON DELETE SET NULL, -- must come first
    bols    TEXT    NOT NULL,
    note    TEXT    NOT NULL,
    added   TEXT    NOT NULL,
    resting TEXT -- the day it was set aside
) STRICT;

CREATE INDEX piece_after ON piece (after) WHERE after IS NOT NULL;
CREATE INDEX piece_resting ON piece (resting) WHERE resting IS NOT NULL;

CREATE TABLE play (
    id      INTEGER PRIMARY KEY AUTOINCREMENT, -- in the order of logging
    piece   INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE,
    day     TEXT    NOT NULL,
    tempo   INTEGER NOT NULL CHECK (tempo BETWEEN 20 AND 400),
    clarity INTEGER NOT NULL CHECK (clarity BETWEEN 0 AND 5),
    minutes INTEGER CHECK (minutes BETWEEN 1 AND 240),
    note    TEXT    NOT NULL
) STRICT;

CREATE INDEX play_piece ON play (piece, day);
CREATE INDEX play_day ON play (day, piece);

CREATE TABLE standing (
    piece        INTEGER PRIMARY KEY REFERENCES piece ON DELETE CASCADE,
    stage        INTEGER NOT NULL, -- 0 untouched, 1 building, 2 kept, 3 slipped
    clean        INTEGER NOT NULL, -- clean tempo, 0 while unknown
    steps        INTEGER NOT NULL, -- marks from the clean tempo to the goal
    rung         INTEGER NOT NULL, -- place on the ladder, sixths of a mark
    found        INTEGER NOT NULL, -- 1 when the player's edge was found
    n            INTEGER NOT NULL, -- SM-2: repetitions since I(1)
    interval     INTEGER NOT NULL, -- SM-2: days
    ease         INTEGER NOT NULL, -- SM-2: EF in hundredths
    lost_at      INTEGER NOT NULL, -- days of the interval at the last slip
    repeated     INTEGER NOT NULL, -- day of the last play that counted for the interval, or -2147483648
    due          INTEGER NOT NULL, -- the first day on which to play it again, likewise
    last         INTEGER NOT NULL, -- day of the last play, likewise
    last_tempo   INTEGER NOT NULL,
    last_clarity INTEGER NOT NULL
) STRICT;

CREATE INDEX standing_due ON standing (due);

CREATE TABLE setting (
    name  TEXT PRIMARY KEY,
    value INTEGER NOT NULL
) STRICT;
