package main

import (
	"slices"

	"golang.org/x/sys/unix"
)

// onNetwork reports whether a folder is on a disk of another machine.
func onNetwork(folder string) bool {
	var disk unix.Statfs_t
	networks := []int64{unix.NFS_SUPER_MAGIC, unix.SMB_SUPER_MAGIC, unix.SMB2_SUPER_MAGIC, unix.CIFS_SUPER_MAGIC,
		unix.V9FS_MAGIC, unix.AFS_SUPER_MAGIC, unix.CEPH_SUPER_MAGIC, unix.FUSE_SUPER_MAGIC}
	return unix.Statfs(folder, &disk) == nil && slices.Contains(networks, int64(disk.Type))
}
