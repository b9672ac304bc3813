package main

import (
	"os"
	"runtime"
	"syscall"
	"unsafe"
)

// exchange swaps two directories in one step, with renameat2 of Linux. It returns an error where the system cannot.
func exchange(a, b string) error {
	number, ok := map[string]uintptr{"amd64": 316, "arm64": 276}[runtime.GOARCH] // package syscall does not have it
	if !ok {
		return syscall.ENOSYS
	}
	from, err := syscall.BytePtrFromString(a)
	if err != nil {
		return err
	}
	to, err := syscall.BytePtrFromString(b)
	if err != nil {
		return err
	}
	const (
		here     = ^uintptr(99) // AT_FDCWD, −100
		swapping = 2            // RENAME_EXCHANGE
	)
	first, second := uintptr(unsafe.Pointer(from)), uintptr(unsafe.Pointer(to))
	if _, _, failed := syscall.Syscall6(number, here, first, here, second, swapping, 0); failed != 0 {
		return failed
	}
	return nil
}

// readerLeaves returns a channel that is closed when nobody reads a pipe any more, with ppoll of Linux.
func readerLeaves(pipe *os.File) <-chan struct{} {
	gone := make(chan struct{})
	go func() {
		asked := struct {
			fd             int32
			wanted, events int16 // errors are always told
		}{fd: int32(pipe.Fd())}
		for {
			n, _, failed := syscall.Syscall6(syscall.SYS_PPOLL, uintptr(unsafe.Pointer(&asked)), 1, 0, 0, 0, 0)
			switch {
			case failed == syscall.EINTR:
			case failed != 0:
				return
			case n > 0:
				close(gone)
				return
			}
		}
	}()
	return gone
}
