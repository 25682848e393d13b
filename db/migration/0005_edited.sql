-- When the player last changed what is said of a piece or a concert, in Unix
-- seconds; NULL where that is not known. The columns are declared so briefly for
-- what SQLite keeps of tables is to stay within the first page.

ALTER TABLE piece ADD COLUMN edited INTEGER;
ALTER TABLE concert ADD COLUMN edited INTEGER;
