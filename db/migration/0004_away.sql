-- Times without practice. The minutes of each weekday are settings, named
-- minutes_1 for Monday to minutes_7.

CREATE TABLE absence (
    first TEXT PRIMARY KEY,
    last  TEXT NOT NULL CHECK (last >= first)
) STRICT;
