package db

import (
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"dohra/repertoire"
	"dohra/schedule"
)

// Salvage reads row by row what a damaged file still gives, passing over what
// cannot be read or could not be kept, and leaves the file as it is.

// Saved is what Salvage could save.
type Saved struct {
	Path                string // of the new file
	Pieces, Plays, Lost int    // Lost rows were met but could not be kept
}

// Salvage writes what can be saved of the damaged file at path to a new file
// beside it.
func Salvage(path string) (Saved, error) {
	folder, err := os.MkdirTemp("", "dohra-")
	if err != nil {
		return Saved{}, err
	}
	defer os.RemoveAll(folder)
	copied := filepath.Join(folder, "damaged.db")
	if err := copyFile(path, copied); err != nil {
		return Saved{}, fmt.Errorf("%s cannot be read: %w", path, plainFS(err))
	}
	if err := copyFile(path+"-wal", copied+"-wal"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return Saved{}, fmt.Errorf("%s-wal cannot be read: %w", path, plainFS(err))
	}
	a, lost, err := gather(copied)
	if err == nil && len(a.Pieces) == 0 { // the page that tells where all is may be the damaged one
		if err := graft(copied); err != nil {
			return Saved{}, err
		}
		a, lost, err = gather(copied)
	}
	if err == nil && len(a.Pieces) == 0 {
		err = errors.New("nothing in it can be read")
	}
	if err != nil {
		return Saved{}, fmt.Errorf("%s cannot be saved: %w", path, Plain(err))
	}
	saved := Saved{Pieces: len(a.Pieces), Plays: a.Plays(), Lost: lost}
	saved.Path, err = writeSaved(path, a)
	return saved, err
}

// writeSaved keeps an archive in a new file beside path.
func writeSaved(path string, a Archive) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s.saved-%d.db", trimDB(path), n)
		err := aside(name, func(name string) error {
			s, err := open(escape(name))
			if err != nil {
				return err
			}
			if err = migrate(s.db); err == nil {
				err = s.inTx(func(tx *sql.Tx) error { return apply(tx, Archive{}, a, map[string]int64{}, noTick) })
			}
			return errors.Join(err, s.Close())
		})
		if !errors.Is(err, fs.ErrExist) {
			return name, plainFS(Plain(err))
		}
	}
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	return errors.Join(err, out.Close())
}

// graft gives a file the first page of a new one: tables that the first
// migration makes begin on the same pages in every file.
func graft(path string) error {
	folder, err := os.MkdirTemp("", "dohra-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	whole := filepath.Join(folder, "new.db")
	if err := build(whole); err != nil {
		return err
	}
	page, err := os.ReadFile(whole)
	if err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	const pageSize = 4096
	const pagesAt = 28 // the number of pages, after which nothing is read
	info, err := f.Stat()
	if err == nil {
		n := uint32(info.Size() / pageSize)
		copy(page[pagesAt:], []byte{byte(n >> 24), byte(n >> 16), byte(n >> 8), byte(n)})
		_, err = f.WriteAt(page[:pageSize], 0)
	}
	os.Remove(path + "-wal") // it goes with the page that was there
	return errors.Join(err, f.Close())
}

// gather reads what it can of pieces, plays, settings and talas.
func gather(path string) (a Archive, lost int, err error) {
	conn, err := sql.Open("sqlite3", "file:"+escape(path))
	if err != nil {
		return a, 0, err
	}
	defer conn.Close()
	conn.SetMaxOpenConns(1)
	a = Archive{Version: archiveVersion}
	if values, err := readSettings(conn); err == nil && checkSettings(values) == nil {
		a.Settings = values
	}
	a.Absences, _ = absences(conn)
	a.Talas, _ = ownTalas(conn)

	byID := map[int64]*Record{}
	after := map[int64]int64{}
	lost += each(conn, "piece", func(id int64) error {
		found, err := collect(conn, scanPiece, "SELECT "+oldPieceColumns+" FROM piece p WHERE id = ?", id)
		if err != nil || len(found) == 0 {
			return err
		}
		p := found[0]
		r := &Record{Entry: repertoire.Entry{Title: p.Title, Kind: p.Kind, Tala: p.Tala, Start: p.Start, Goal: p.Goal, Note: p.Note, Bols: p.Bols},
			Added: p.Added, Resting: p.Resting}
		if err := r.Check(); err != nil {
			return err
		}
		byID[id], after[id] = r, p.After
		return nil
	})
	columns := playColumns
	for _, older := range oldPlayColumns {
		if _, err := conn.Prepare(columns); err != nil {
			columns = older
		}
	}
	lost += each(conn, "play", func(id int64) error {
		found, err := collect(conn, scanPlay, columns+"WHERE id = ?", id)
		if err != nil || len(found) == 0 {
			return err
		}
		p := found[0]
		if byID[p.Piece] == nil {
			byID[p.Piece] = lostPiece(p)
		}
		byID[p.Piece].Plays = append(byID[p.Piece].Plays, PlayOf(p))
		return nil
	})
	for id, r := range byID {
		if first := byID[after[id]]; first != nil {
			r.After = first.Title
		}
		a.Pieces = append(a.Pieces, *r)
	}
	slices.SortFunc(a.Pieces, func(a, b Record) int { return foldedOrder(a.Title, b.Title) })
	uncircle(a.Pieces)
	titles := map[int64]string{}
	for id, r := range byID {
		titles[id] = r.Title
	}
	a.Concerts, _ = archiveConcerts(conn, titles)
	return a, lost, a.tidy()
}

// lostPiece stands for a piece of which only plays are left.
func lostPiece(p schedule.Play) *Record {
	return &Record{Entry: repertoire.Entry{
		Title: fmt.Sprintf("Lost piece %d", p.Piece), Kind: "exercise", Tala: repertoire.Talas[0].Name,
		Start: repertoire.MinTempo, Goal: p.Tempo, Note: "Only its plays could be saved.",
	}, Added: p.Day, Resting: repertoire.Never}
}

// oldPieceColumns are those of pieceColumns that every schema has.
const oldPieceColumns = "p.id, p.title, p.kind, p.tala, p.start, p.goal, coalesce(p.after, 0), p.bols, 0, p.note, p.added, p.resting"

// oldPlayColumns are playColumns of schemas in which a play was of one line at
// most, and in which plays had no marks.
var oldPlayColumns = []string{
	`SELECT id, piece, day, tempo, clarity, coalesce(minutes, 0), note, sore, spoken, line, 0 FROM play `,
	`SELECT id, piece, day, tempo, clarity, coalesce(minutes, 0), note, 0, 0, 0, 0 FROM play `,
}

// each calls do with every id of a table that can be reached, and counts those
// of which do says that they cannot be kept. Where the rows break off, it goes
// on behind the break: id by id, and, when the break is long, in strides.
func each(conn *sql.DB, table string, do func(id int64) error) (lost int) {
	const long = 20_000
	last, end := int64(0), lastID(conn, table)
	for misses := int64(0); last < end; {
		ids, err := reach(conn, table, last)
		for _, id := range ids {
			last, misses = id, 0
			if do(id) != nil {
				lost++
			}
		}
		if err == nil && len(ids) == 0 {
			break
		}
		if err != nil {
			misses++
			last += 1 + max(0, misses-long)
		}
	}
	return lost
}

// reach returns ids after one, until there is no more, or enough, or an error.
func reach(conn *sql.DB, table string, after int64) (ids []int64, err error) {
	const enough = 10_000
	rows, err := conn.Query("SELECT id FROM "+table+" NOT INDEXED WHERE id > ? ORDER BY id LIMIT ?", after, enough)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		id, err := scanID(rows)
		if err != nil {
			return ids, err
		}
		ids = append(ids, id)
	}
	return ids, rows.Err()
}

// lastID returns the greatest id of a table, or, where that cannot be read, a
// greater one than the file has had room for.
func lastID(conn *sql.DB, table string) (id int64) {
	if err := conn.QueryRow("SELECT coalesce(max(id), 0) FROM " + table + " NOT INDEXED").Scan(&id); err == nil {
		return id
	}
	conn.QueryRow("SELECT 2048 * page_count FROM pragma_page_count").Scan(&id)
	return id
}
