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
