-- The length of a piece's bols and the minutes that its next turn takes are kept
-- beside what they follow from. Talas that the player defined are the player's.

ALTER TABLE piece ADD COLUMN matras INTEGER NOT NULL DEFAULT 0; -- of its bols, 0 without

ALTER TABLE standing ADD COLUMN least INTEGER NOT NULL DEFAULT 0; -- minutes of its next turn, at least

-- All that ranking a day reads, in the order of due days.
DROP INDEX standing_due;
CREATE INDEX standing_claim ON standing (due, stage, last, interval, steps, least);

CREATE TABLE tala (
    name    TEXT PRIMARY KEY,
    folded  TEXT NOT NULL UNIQUE,
    vibhags TEXT NOT NULL, -- whole numbers, parted by spaces
    tali    TEXT NOT NULL,
    khali   TEXT NOT NULL,
    theka   TEXT NOT NULL
) STRICT;
