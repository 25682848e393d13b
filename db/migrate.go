package db

import (
	"database/sql"
	"embed"
	"fmt"
)

// The schema is built by the files in migration/, in the order of their names.
// The number of those that have run is the file's schema number, kept in
// SQLite's user_version.

//go:embed migration/*.sql
var migrations embed.FS

func latest() int {
	files, _ := migrations.ReadDir("migration")
	return len(files)
}

// migrate runs what is missing, each file in a transaction of its own.
func migrate(conn *sql.DB) error {
	schema, err := schemaOf(conn)
	for ; err == nil && schema < latest(); schema, err = schemaOf(conn) {
		if err := step(conn); err != nil {
			return err
		}
	}
	return err
}

func schemaOf(q interface{ QueryRow(string, ...any) *sql.Row }) (schema int, err error) {
	err = q.QueryRow("PRAGMA user_version").Scan(&schema)
	return schema, err
}

// step runs the next migration, and with the last one derives anew what is
// derived. It looks at the schema again once it holds the
// write lock, for another terminal may have been quicker.
func step(conn *sql.DB) error {
	tx, err := conn.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	schema, err := schemaOf(tx)
	if err != nil || schema >= latest() {
		return err
	}
	files, err := migrations.ReadDir("migration")
	if err != nil {
		return err
	}
	text, err := migrations.ReadFile("migration/" + files[schema].Name())
	if err != nil {
		return err
	}
	if _, err := tx.Exec(string(text)); err != nil {
		return fmt.Errorf("migration %s: %w", files[schema].Name(), err)
	}
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, schema+1)); err != nil {
		return err
	}
	if schema+1 == latest() {
		if err := rebuild(tx); err != nil {
			return err
		}
	}
	return tx.Commit()
}
