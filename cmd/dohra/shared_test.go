package main

import "testing"

func TestSharedFolders(t *testing.T) {
	for path, want := range map[string]bool{
		"/home/a/Dropbox/r.db": true, "/home/a/OneDrive - Home/x/r.db": true, "/home/a/Nextcloud/r.db": true, "/Users/a/Google Drive/r.db": true,
		"/Users/a/Library/Mobile Documents/com~apple~CloudDocs/r.db": true, "/home/a/Sync/r.db": true, "/home/a/Box/r.db": true,
		"/home/a/MEGA/r.db": true, "/home/a/Seafile/r.db": true,
		"/home/a/.local/share/dohra/repertoire.db": false, "/home/a/music box/r.db": false, "/home/a/cloud.db": false,
	} {
		if got := shared(path); got != want {
			t.Errorf("%s: %v", path, got)
		}
	}
}
