package folder

import "golang.org/x/sys/unix"

// exchange swaps two folders in one step that no other process can see half
// done.
func exchange(a, b string) error { return unix.RenamexNp(a, b, unix.RENAME_SWAP) }
