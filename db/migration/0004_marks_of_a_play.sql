-- A play may have hurt, have been spoken and not played, or be of one line
-- alone, 0 for the whole. A standing knows when its piece was last spoken, a day
-- counted as the others. SQLite keeps the text of columns on the first page of
-- the file, which must hold them all for a damaged file to be saved.

ALTER TABLE play ADD COLUMN sore INTEGER NOT NULL DEFAULT 0;
ALTER TABLE play ADD COLUMN spoken INTEGER NOT NULL DEFAULT 0;
ALTER TABLE play ADD COLUMN line INTEGER NOT NULL DEFAULT 0;
ALTER TABLE standing ADD COLUMN spoken INTEGER NOT NULL DEFAULT -2147483648;
