-- A repertoire as schema 4 kept it, with standings that are missing or stale.
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
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
, matras INTEGER NOT NULL DEFAULT 0, teacher TEXT NOT NULL DEFAULT '') STRICT;
INSERT INTO piece VALUES(3,'Mill gat','mill gat','gat','rupak',60,120,NULL,'tin tin na | dhi na | dhi na |','','2026-01-01',NULL,7,'');
INSERT INTO piece VALUES(4,'Kite kaida','kite kaida','kaida','teental',50,100,NULL,'','slow hands','2026-01-02',NULL,0,'');
INSERT INTO piece VALUES(7,'Kite palta','kite palta','palta','teental',50,100,4,'','','2026-01-03','2026-02-01',0,'');
CREATE TABLE play (
    id      INTEGER PRIMARY KEY AUTOINCREMENT, -- in the order of logging
    piece   INTEGER NOT NULL REFERENCES piece ON DELETE CASCADE,
    day     TEXT    NOT NULL,
    tempo   INTEGER NOT NULL CHECK (tempo BETWEEN 20 AND 400),
    clarity INTEGER NOT NULL CHECK (clarity BETWEEN 0 AND 5),
    minutes INTEGER CHECK (minutes BETWEEN 1 AND 240),
    note    TEXT    NOT NULL
, sore INTEGER NOT NULL DEFAULT 0, spoken INTEGER NOT NULL DEFAULT 0, line INTEGER NOT NULL DEFAULT 0, through INTEGER NOT NULL DEFAULT 0) STRICT;
INSERT INTO play VALUES(1,3,'2026-01-02',120,4,NULL,'first',0,0,0,0);
INSERT INTO play VALUES(2,3,'2026-01-03',120,4,6,'',0,0,0,0);
INSERT INTO play VALUES(4,4,'2026-01-05',50,4,5,'',0,0,0,0);
INSERT INTO play VALUES(5,4,'2026-01-06',54,2,5,'tired',0,0,0,0);
INSERT INTO play VALUES(6,4,'2026-01-06',52,4,NULL,'',0,0,0,0);
INSERT INTO play VALUES(9,3,'2026-01-02',96,5,NULL,'logged late',0,0,0,0);
CREATE TABLE setting (
    name  TEXT PRIMARY KEY,
    value INTEGER NOT NULL
) STRICT;
INSERT INTO setting VALUES('minutes',30);
CREATE TABLE tala (
    name    TEXT PRIMARY KEY,
    folded  TEXT NOT NULL UNIQUE,
    vibhags TEXT NOT NULL, -- whole numbers, parted by spaces
    tali    TEXT NOT NULL,
    khali   TEXT NOT NULL,
    theka   TEXT NOT NULL
) STRICT;
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
, spoken INTEGER NOT NULL DEFAULT -2147483648) STRICT;
INSERT INTO standing VALUES(3,2,20462,20462,20456,20456,0.0,0.061162000000000001087,3.4202140000000000874,0.79963399999999995593,4.9078989999999995674,0.05081999999999999712,120,2,9,6,250,0,20456,120,4,-2147483648);
INSERT INTO standing VALUES(7,0,-2147483648,-2147483648,-2147483648,-2147483648,3.9638429999999997832,0.25,3.4011969999999998037,0.8000000000000000444,3.9638429999999997832,0.051819999999999998008,100,4,0,0,0,0,-2147483648,0,0,-2147483648);
CREATE TABLE absence (
    first TEXT PRIMARY KEY,
    last  TEXT NOT NULL CHECK (last >= first)
) STRICT;
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
DELETE FROM sqlite_sequence;
INSERT INTO sqlite_sequence VALUES('play',9);
CREATE INDEX piece_after ON piece (after) WHERE after IS NOT NULL;
CREATE INDEX piece_resting ON piece (resting) WHERE resting IS NOT NULL;
CREATE INDEX play_piece ON play (piece, day);
CREATE INDEX play_day ON play (day, piece);
CREATE INDEX standing_claim ON standing
    (wants, stage, due, last, believed, edge, edge_doubt, hold, hold_doubt, peak, goal, least);
COMMIT;
PRAGMA application_id = 1685022834;
PRAGMA user_version = 4;
