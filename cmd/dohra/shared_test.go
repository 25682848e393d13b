package main

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestSharedFolders(t *testing.T) {
	for path, want := range map[string]bool{
		"/home/a/Dropbox/r.db": true, "/home/a/OneDrive - Home/x/r.db": true, "/home/a/Nextcloud/r.db": true, "/Users/a/Google Drive/r.db": true,
		"/Users/a/Library/Mobile Documents/com~apple~CloudDocs/r.db": true, "/home/a/Sync/r.db": true, "/home/a/Box/r.db": true,
		"/home/a/MEGA/r.db": true, "/home/a/Seafile/r.db": true, "/Users/a/Library/CloudStorage/GoogleDrive-a/My Drive/r.db": true,
		"/home/a/Syncopation studies/r.db": false, "/home/a/screwdriver songs/r.db": false, "/home/a/Cloudberry songs/r.db": false, "/mnt/harddrive/r.db": false,
		"/home/a/.local/share/dohra/repertoire.db": false, "/home/a/music box/r.db": false, "/home/a/cloud.db": false,
	} {
		if got := shared(path); got != want {
			t.Errorf("%s: %v", path, got)
		}
	}
}

func TestSharedThroughALink(t *testing.T) {
	folder, err := filepath.EvalSymlinks(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	synced := filepath.Join(folder, "Dropbox", "r.db")
	if err := errors.Join(os.Mkdir(filepath.Dir(synced), 0o700), os.WriteFile(synced, nil, 0o600)); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(folder, "link.db")
	if err := os.Symlink(synced, link); err != nil {
		t.Skip(err)
	}
	if !shared(link) {
		t.Error("a link into a synced folder is not seen as one")
	}
}
