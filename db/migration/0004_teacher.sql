-- Whose piece it is, and the last of the lines that a play of several lines went
-- through, 0 for a play of one line or of the whole.

ALTER TABLE piece ADD COLUMN teacher TEXT NOT NULL DEFAULT '';
ALTER TABLE play ADD COLUMN through INTEGER NOT NULL DEFAULT 0;
